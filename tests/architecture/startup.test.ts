// What every start of the command line waits for: a module's body runs when it is loaded, and those of the schema alone take a third
// of Node's own start.
import { dirname, join } from 'node:path/posix'
import { expect, test } from 'vitest'
import { loadedFirst } from './syntax.ts'
import { textOf } from './tree.ts'

/** Files and packages that run before `entry` does, itself included. */
function loadedWith(entry: string, read: (path: string) => string): Set<string> {
  const found = new Set<string>()
  const visit = (path: string) => {
    if (found.has(path)) return
    found.add(path)
    if (!/\.tsx?$/.test(path)) return
    for (const name of loadedFirst(path, read(path))) visit(name.startsWith('.') ? join(dirname(path), name) : name)
  }
  visit(entry)
  return found
}

test('the command line loads no lamp, no physics and no package before it knows the command', () => {
  const loaded = [...loadedWith('src/cli/main.ts', textOf)].sort()
  expect(loaded).toContain('src/cli/dispatch.ts')
  expect(loaded.filter((path) => !path.startsWith('src/cli/'))).toEqual([
    'node:util',
    'package.json',
    'src/lamp/printable.ts',
    'src/library/demoNames.ts',
    'src/num/editDistance.ts',
    'src/num/scheduler.ts',
    'src/num/thousands.ts',
    'src/run/layout.ts',
    'src/run/parts.ts',
    'src/run/types.ts',
    'src/run/validate.ts',
  ])
})

test('the page loads no tracer, no heat and no rules on power before it shows', () => {
  const loaded = [...loadedWith('src/app/main.tsx', textOf)]
  expect(loaded).toContain('src/app/shell/Shell.tsx')
  const ahead = /^src\/(engine\/(forward|backward|gpu)|checks\/power|electrothermal|heat|solids|drawing|readings)\//
  expect(loaded.filter((path) => ahead.test(path))).toEqual([])
})

test('types and import() load nothing ahead; a re-export does', () => {
  const text: Record<string, string> = {
    'a/main.ts':
      "import type { A } from './type.ts'\nexport { b } from '../b.ts'\nexport const c = () => import('./late.ts')\n",
    'b.ts': "import { z } from 'zod'\nexport const b = z\n",
  }
  expect([...loadedWith('a/main.ts', (path) => text[path]!)]).toEqual(['a/main.ts', 'b.ts', 'zod'])
})
