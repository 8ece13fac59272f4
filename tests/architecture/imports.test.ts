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

/** File → files of src it imports, types included. */
function graphOf(paths: readonly string[], read: (path: string) => string): Map<string, string[]> {
  const known = new Set(paths)
  return new Map(
    paths.map((path) => [
      path,
      importsOf(path, read(path))
        .filter((name) => name.startsWith('.'))
        .map((name) => join(dirname(path), name))
        .filter((to) => known.has(to)),
    ]),
  )
}

/** Files that import one another, by way of others too: the strongly connected components (Tarjan, SIAM J. Comput. 1 (1972) 146). */
function circlesOf(graph: ReadonlyMap<string, readonly string[]>): string[][] {
  const order = new Map<string, number>()
  const low = new Map<string, number>()
  const stack: string[] = []
  const found: string[][] = []
  const visit = (at: string): number => {
    let least = order.size
    order.set(at, least)
    stack.push(at)
    for (const to of graph.get(at) ?? []) {
      if (!order.has(to)) least = Math.min(least, visit(to))
      else if (stack.includes(to)) least = Math.min(least, order.get(to)!)
      if (to === at) found.push([at])
    }
    low.set(at, least)
    if (least === order.get(at)) {
      const ring = stack.splice(stack.indexOf(at))
      if (ring.length > 1) found.push(ring.sort())
    }
    return least
  }
  for (const at of graph.keys()) if (!order.has(at)) visit(at)
  return found
}

test('no circle of imports, types included', () => {
  const paths = sources('src/')
  expect(
    circlesOf(graphOf(paths, textOf)).map((ring) => ring.join(' ↔ ')),
    'move the types that both need into a file of their own (types.ts), or pass plain data',
  ).toEqual([])
})

test('a circle is found, through a third file and of types alone', () => {
  const texts: Record<string, string> = {
    'src/num/a.ts': "import { b } from './b.ts'",
    'src/num/b.ts': "import type { C } from './c.ts'",
    'src/num/c.ts': "import type { A } from './a.ts'",
    'src/num/d.ts': "import { a } from './a.ts'",
  }
  const rings = circlesOf(graphOf(Object.keys(texts), (path) => texts[path]!))
  expect(rings).toEqual([['src/num/a.ts', 'src/num/b.ts', 'src/num/c.ts']])
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
    ["import { a } from '../../tests/kit/hands.ts'", 'src imports nothing from tests'],
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
    ['src/app/store/a.ts', '../actions/b.ts', 'app/store lies below app/actions'],
    ['src/app/common/a.ts', '../store/b.ts', 'app/common lies below app/store'],
    ['src/app/plan/model/a.ts', '../../store/b.ts', 'a model is pure'],
    ['src/app/plan/model/a.ts', '../PlanView.tsx', 'a model is pure'],
    ['src/engine/forward/a.ts', '../backward/b.ts', 'forward and backward stand side by side'],
    ['src/engine/forward/a.ts', '../workers/b.ts', 'engine/forward lies below engine/workers'],
    ['src/engine/workers/a.ts', '../rounds.ts', 'engine/workers lies below the files of src/engine'],
    ['src/job/beam/a.ts', '../../report/b.ts', 'job lies below report'],
    ['src/report/a.ts', '../cli/b.ts', 'report lies below cli'],
    ['src/electrothermal/a.ts', '../beam/b.ts', 'electrothermal must not know beam'],
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
