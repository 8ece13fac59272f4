// `!` says to the compiler that a value is there. It is for an index into a flat array, proven by the loop around it; elsewhere a check or a
// better type says the same and can't be wrong in silence. Both are counted, and neither count may grow.
import { expect, test } from 'vitest'
import { nonNullIn } from './syntax.ts'
import { sources, textOf } from './tree.ts'

/** After `a[i]`, and after anything else (a map's `get`, a `find`, an optional). Lower them when some are gone. */
// The index count was 2272 before the searches in the air and of eyes (hazard/air, run/segments.ts, hazard/eye*.ts), which loop over flat columns;
// 2589 before assembled lamps, tilted boards and outlines (optics/frame.ts, stretch.ts, boards.ts, engine/forward/assembledWalk.ts,
// engine/backward/assembly*.ts, num/polygon.ts): rows of flat arrays too.
/** Else a file has none, and needn't be parsed. */
const AFTER_A_VALUE = /[^\s(!]!/

const MOST = { index: 3500, other: 177 }

test('no new `!` in src', () => {
  const counts = { index: 0, other: 0 }
  const rows: [string, number][] = []
  for (const path of sources('src/')) {
    const text = textOf(path)
    if (!AFTER_A_VALUE.test(text)) continue
    const { index, other } = nonNullIn(path, text)
    counts.index += index
    counts.other += other
    if (other > 0) rows.push([path, other])
  }
  rows.sort((a, b) => b[1] - a[1])
  console.log(
    `${counts.index} after an index, ${counts.other} elsewhere, most in:\n${rows
      .slice(0, 10)
      .map(([path, n]) => `${String(n).padStart(5)}  ${path}`)
      .join('\n')}`,
  )
  expect(counts.other, 'write a check, or a type that says it').toBeLessThanOrEqual(MOST.other)
  expect(counts.index, 'loop with for…of, or read the value once').toBeLessThanOrEqual(MOST.index)
})

test('the two kinds are counted apart', () => {
  expect(nonNullIn('a.ts', 'const b = a[i]! + c[0]![1]! + d.get(1)! + e!.f')).toEqual({ index: 3, other: 2 })
  expect(nonNullIn('a.ts', 'const b = !a && b !== c')).toEqual({ index: 0, other: 0 })
})
