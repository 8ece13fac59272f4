// Imports flow one way, types included (the table of DEVELOPERS.md).
import { dirname, join } from 'node:path/posix'
import { describe, expect, test } from 'vitest'
import { packageRefusal, refusal } from './levels.ts'
import { importsOf } from './syntax.ts'
import { files, sources, textOf } from './tree.ts'

/** One line for each import that may not stand. */
function faults(path: string, text: string, exists: (path: string) => boolean): string[] {
  return importsOf(path, text).flatMap((name) => {
    if (!name.startsWith('.')) {
      const why = packageRefusal(path, name)
      return why ? [`${path} imports ${name}: ${why}`] : []
    }
    // A worker on Node is named as the bundle that is made of it.
    const to = join(dirname(path), name.replace(/\?.*$/, '').replace(/\.node\.mjs$/, '.node.ts'))
    if (!exists(to))
      return [`${path} imports ${name}: no such file; write the ending (.ts, .tsx) as it stands on disk.`]
    const why = refusal(path, to)
    return why ? [`${path} imports ${to}: ${why}`] : []
  })
}

test('every folder of src imports only from below', () => {
  const known = new Set(files())
  const found = sources('src/').flatMap((path) => faults(path, textOf(path), (to) => known.has(to)))
  expect(found).toEqual([])
})

describe('the rule itself', () => {
  const of = (path: string, text: string) => faults(path, text, () => true)

  test.each([
    ["import { a } from '../engine/pool.ts'", 'beam must not know engine'],
    ["import type { A } from '../engine/pool.ts'", 'beam must not know engine'],
    ["export * from '../engine/pool.ts'", 'beam must not know engine'],
    ["export type { A } from '../engine/pool.ts'", 'beam must not know engine'],
    ["const a = await import('../engine/pool.ts')", 'beam must not know engine'],
    ["type A = import('../engine/pool.ts').A", 'beam must not know engine'],
    ["new Worker(new URL('../engine/w.ts', import.meta.url))", 'beam must not know engine'],
    ["import { a } from '../files/csv.ts'", 'beam lies below files'],
    ["import { a } from '../hazard/sun.ts'", 'beam must not know hazard'],
    ["import { a } from '../../tests/kit/expect.ts'", 'src imports nothing from tests'],
    ["import glsl from '../../shaders/views/a.glsl?raw'", 'shaders are for src/app and src/engine'],
    ["import { useState } from 'react'", 'only src/app may'],
    ["import { readFileSync } from 'node:fs'", 'runs in a browser as well'],
  ])('beam: %s', (text, why) => {
    expect(of('src/beam/spill.ts', text).join()).toContain(why)
  })

  test('what is allowed passes', () => {
    expect(of('src/beam/spill.ts', "import { a } from '../run/types.ts'\nimport { b } from './angle.ts'")).toEqual([])
    expect(of('src/beam/spill.ts', "// import { a } from '../engine/pool.ts'\nconst s = 'import x from y'")).toEqual([])
    expect(of('src/cli/main.ts', "import { a } from '../job/node.ts'\nimport b from '../../package.json'")).toEqual([])
    expect(of('src/app/plan/PlanView.tsx', "import '../theme.css'\nimport { a } from '../ui/Note.tsx'")).toEqual([])
  })

  test.each([
    ['src/app/plan/a.tsx', '../section/b.ts', 'plan and section stand side by side'],
    ['src/app/store/a.ts', '../acts/b.ts', 'app/store lies below app/acts'],
    ['src/app/measure/a.ts', '../store/b.ts', 'app/measure lies below app/store'],
    ['src/app/plan/a.ts', '../../engine/b.ts', 'app must not know engine'],
    ['src/app/plan/a.ts', '../../cli/b.ts', 'app must not know cli'],
    ['src/cli/a.ts', '../app/b.ts', 'cli must not know app'],
    ['src/app/odd/a.ts', '../store/b.ts', 'no level for src/app/odd'],
    ['src/odd/a.ts', '../num/b.ts', 'no level for src/odd'],
  ])('%s may not import %s', (path, name, why) => {
    expect(of(path, `import { x } from '${name}'`).join()).toContain(why)
  })

  test('an import without its ending is pointed out', () => {
    expect(faults('src/num/a.ts', "import { x } from './b'", () => false).join()).toContain('no such file')
  })
})
