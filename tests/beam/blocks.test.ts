// Evenness of lens and face: blocks that are single cells of a map of 4 × 4, or 4 × 4 cells each, with values known by hand.
import { describe, expect, test } from 'vitest'
import { readFaceEvenness, readLensEvenness } from '../../src/beam/evenness.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { T95 } from '../../src/num/stats.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const rounding = { rel: 1e-11, because: 'rounding' }
const none = { abs: 1e-6, because: '√ of rounding' }
const gannet = gannetHead()
const lensed = (diameterMm: number, aperture: 'round' | 'square'): Lamp => {
  if (gannet.lens?.kind !== 'fresnel') throw new Error('another lens')
  return { ...gannet, lens: { ...gannet.lens, diameterMm, aperture } }
}
const faced = (shape: Lamp['face']['shape'], sizeMm: number): Lamp => ({
  ...gannet,
  face: { ...gannet.face, shape, sizeMm },
})

/** A square map of n × n cells over ± half, on the lens or the face; the other of the two holds rubbish. */
function mapped(
  n: number,
  halfMm: number,
  at: (cell: number, batch: number) => number,
  part: 'lens' | 'face' = 'lens',
) {
  const shape = smallShape({ lens: { n, halfMm, zMm: 1 }, face: { n, halfMm } })
  return filledRun(shape, (t, l, b) => {
    const [here, there] = part === 'lens' ? [l.lensW, l.faceW] : [l.faceW, l.lensW]
    for (let i = 0; i < n * n; i++) {
      t[here + i] = at(i, b)
      t[there + i] = 1e3 * i
    }
  })
}
const lens = (run: ReturnType<typeof mapped>, diameterMm: number, aperture: 'round' | 'square' = 'round') =>
  readLensEvenness(run, lensed(diameterMm, aperture))
const corner = (cell: number) => [0, 3, 12, 15].includes(cell)
/** The four cells in the middle of 4 × 4, as blocks 0 to 3; the rest holds rubbish. */
const middle = (at: (block: number, batch: number) => number) => (cell: number, batch: number) => {
  const block = [5, 6, 9, 10].indexOf(cell)
  return block < 0 ? 1e6 : at(block, batch)
}

describe('which blocks lie on the part', () => {
  test('a round lens: the corners of 4 × 4 lie off it', () => {
    const { evenness, variation, absent } = lens(
      mapped(4, 20, (i) => (corner(i) ? 1e6 : i === 7 ? 1 : 2)),
      40,
    )
    // Eleven of 2 and one of 1: mean 23/12; mean square 45/12, variance 11/144.
    expectWithin(evenness!.value, 12 / 23, rounding)
    expectWithin(evenness!.se, 0, none)
    expectWithin(variation!.value, Math.sqrt(11) / 23, rounding)
    expectWithin(variation!.se, 0, none)
    expect(absent).toBeUndefined()
  })
  test('a square one takes them in', () => {
    const { evenness, variation } = lens(
      mapped(4, 20, (i) => (corner(i) ? 1 : 2)),
      40,
      'square',
    )
    // Four of 1 and twelve of 2: mean 7/4, variance 3/16.
    expectWithin(evenness!.value, 4 / 7, rounding)
    expectWithin(variation!.value, Math.sqrt(3) / 7, rounding)
  })
  test('a part smaller than the map: cells beside it are left out', () => {
    expectWithin(
      lens(
        mapped(
          4,
          20,
          middle((k) => (k === 3 ? 1 : 2)),
        ),
        20,
      ).evenness!.value,
      4 / 7,
      rounding,
    )
    // The one row or column beyond an edge alone is rubbish.
    for (const beyond of [
      (i: number) => i < 4,
      (i: number) => i > 11,
      (i: number) => i % 4 === 0,
      (i: number) => i % 4 === 3,
    ]) {
      const run = mapped(4, 20, (i) => (beyond(i) ? 1e6 : 3))
      expectWithin(lens(run, 20).evenness!.value, 1, rounding)
    }
  })
  test('a part smaller than a cell has one block, or none', () => {
    const { evenness, variation } = lens(
      mapped(2, 10, (i) => i + 1),
      12,
      'square',
    )
    expectWithin(evenness!.value, 1, rounding)
    expectWithin(variation!.value, 0, none)
    // All four cells are off a disc of 6 mm: their middles lie 7.07 from the axis.
    expect(
      lens(
        mapped(2, 10, () => 1),
        12,
      ),
    ).toEqual({ absent: 'No light reaches the lens.' })
  })
  test('twenty blocks across; at the rim those count that lie on it by 80 % and more, by their part of it', () => {
    // Cells of 0.5 mm, blocks of 1.9 mm on a disc of 38 mm: 9 to 16 cells each.
    const [n, half] = [80, 19]
    const at = (i: number) => [((i % n) + 0.5) * 0.5 - 20, (Math.floor(i / n) + 0.5) * 0.5 - 20] as const
    const on = (i: number) => Math.hypot(...at(i)) <= half
    const block = (i: number) => {
      const [c, r] = at(i).map((v) => Math.floor((v + half) / 1.9)) as [number, number]
      return c < 0 || r < 0 || c > 19 || r > 19 ? -1 : c + 20 * r
    }
    const inside = new Array<number>(400).fill(0)
    const all = new Array<number>(400).fill(0)
    for (let i = 0; i < n * n; i++) {
      if (block(i) >= 0) all[block(i)]!++
      if (on(i)) inside[block(i)]!++
    }
    const share = (k: number) => (k < 0 ? 0 : inside[k]! / all[k]!)
    // Even light on blocks that count, rubbish everywhere else.
    const counts = (i: number) => on(i) && share(block(i)) >= 0.8
    const even = lens(
      mapped(n, 20, (i) => (counts(i) ? 1 : 1e6)),
      38,
    )
    expectWithin(even.evenness!.value, 1, rounding)
    expectWithin(even.variation!.value, 0, none)
    // The one that only just counts, and the one that just does not, made dark.
    const shares = all.map((_, k) => share(k))
    const darkened = (k: number) =>
      lens(
        mapped(n, 20, (i) => (block(i) === k ? 0 : 1)),
        38,
      ).evenness!.value
    const least = Math.min(...shares.filter((v) => v >= 0.8))
    const most = Math.max(...shares.filter((v) => v < 0.8))
    expect([least < 0.9, most > 0.7]).toEqual([true, true])
    expect(darkened(shares.indexOf(least))).toBe(0)
    expectWithin(darkened(shares.indexOf(most)), 1, rounding)
  })
})

describe('noise', () => {
  test('the darkest block of one half is measured in the other', () => {
    // Even batches: 1, 5, 10, 10; odd ones 6, 2, 10, 10: 5 and 6 are taken, of means 6.5 and 7.
    const values = [
      [1, 5, 10, 10],
      [6, 2, 10, 10],
    ]
    const { evenness } = lens(
      mapped(
        4,
        20,
        middle((k, b) => values[b % 2]![k]!),
      ),
      20,
    )
    // All batches: 3.5 in blocks 0 and 1, of a mean of 6.75. A third of the way there.
    const [split, own] = [88 / 108, 3.5 / 6.75]
    expectWithin(evenness!.value, split + (own - split) / 3, rounding)
    // Eight times each: half of the difference from their mean, √(15/16 · 16).
    const spread = (Math.sqrt(15) * Math.abs(83 / 101.5 - 82 / 101)) / 2
    expectWithin(evenness!.se, Math.hypot(spread, (split - own) / 2 / T95), rounding)
  })
  test('of blocks alike the first is taken', () => {
    const values = [
      [2, 2, 9, 9],
      [3, 7, 4, 4],
    ]
    // Even batches: block 0, which holds 3 in the odd ones; these are darkest in it too: 2.
    const { evenness } = lens(
      mapped(
        4,
        20,
        middle((k, b) => values[b % 2]![k]!),
      ),
      20,
    )
    expectWithin(evenness!.value, (2 + 3) / (22 / 4 + 18 / 4), rounding)
  })

  /** Spread of the blocks’ means less 1 − 1/n of the mean variance of such a mean, from sample variances. */
  const varianceOf = (batches: number[][]) => {
    const n = batches[0]!.length
    const mean = (v: number[]) => v.reduce((a, b) => a + b, 0) / v.length
    const about = (v: number[]) => v.reduce((a, b) => a + (b - mean(v)) ** 2, 0)
    const blocks = batches[0]!.map((_, k) => batches.map((b) => b[k]!))
    const own = mean(blocks.map((v) => about(v) / (v.length - 1) / v.length))
    return (about(blocks.map(mean)) / n - own * (1 - 1 / n)) / mean(blocks.map(mean)) ** 2
  }
  test('the variance that noise makes is taken off', () => {
    const at = (k: number, b: number) => [2, 2, 3, 6 + (b % 2 ? 1.5 : -1.5)][k]! + 0.1 * ((b * (k + 3)) % 7)
    const { variation } = lens(mapped(4, 20, middle(at)), 20)
    const batches = Array.from({ length: 16 }, (_, b) => [0, 1, 2, 3].map((k) => at(k, b)))
    const value = Math.sqrt(varianceOf(batches))
    expectWithin(variation!.value, value, rounding)
    const without = batches.map((_, b) => varianceOf(batches.filter((_, i) => i !== b)))
    const mean = without.reduce((a, b) => a + b) / 16
    const se = Math.sqrt((15 / 16) * without.reduce((a, v) => a + (v - mean) ** 2, 0))
    // The root falls off more steeply towards 0.
    const low = Math.sqrt(Math.max(0, value ** 2 - T95 * se))
    expectWithin(variation!.se, (value - low) / T95, { rel: 1e-8, because: 'rounding' })
  })
  test('by hand: means 2, 2, 2, 6 and one of them with ± 1.5', () => {
    // Mean 3, variance 3. 36/(16 · 15) = 0.15 is the noise of one mean of four, times ¾.
    const at = (k: number, b: number) => (k < 3 ? 2 : b % 2 ? 7.5 : 4.5)
    const { variation } = lens(mapped(4, 20, middle(at)), 20)
    expectWithin(variation!.value, Math.sqrt(3 - (0.15 / 4) * 0.75) / 3, rounding)
  })
  test('noise alone is no variation, but that is known to an error only', () => {
    const { variation } = lens(
      mapped(
        4,
        20,
        middle((k, b) => 2 + ((b >> k) % 2 ? 1 : -1)),
      ),
      20,
    )
    expect(variation!.value).toBe(0)
    expect(variation!.se).toBeGreaterThan(0)
  })
  test('each batch by what it emitted', () => {
    const run = mapped(
      4,
      20,
      middle((k, b) => (k === 3 ? 1 : 2) * (b + 1)),
    )
    for (const [b, t] of run.tallies.entries()) t[32] = b + 1 // its watts
    const { evenness } = lens(run, 20)
    expectWithin(evenness!.value, 4 / 7, rounding)
    expectWithin(evenness!.se, 0, none)
  })
})

describe('the face', () => {
  const [n, half] = [100, 25]
  const x = (i: number) => ((i % n) + 0.5) * 0.5 - half
  const y = (i: number) => (Math.floor(i / n) + 0.5) * 0.5 - half
  const outlines: Record<'round' | 'square' | 'hexagon', (i: number) => boolean> = {
    round: (i) => Math.hypot(x(i), y(i)) <= 20,
    square: (i) => Math.abs(x(i)) <= 20 && Math.abs(y(i)) <= 20,
    hexagon: (i) => Math.abs(x(i)) <= 20 && Math.abs(x(i)) / 2 + (Math.sqrt(3) / 2) * Math.abs(y(i)) <= 20,
  }
  test.each(['round', 'square', 'hexagon'] as const)('%s: even on it, whatever lies beside it', (shape) => {
    const run = mapped(n, half, (i) => (outlines[shape](i) ? 1 : 0), 'face')
    const { evenness, variation } = readFaceEvenness(run, faced(shape, 40))
    expectWithin(evenness!.value, 1, rounding)
    expectWithin(variation!.value, 0, none)
  })
  test('a dark block near a corner lies on square and hexagon', () => {
    // 18 to 20 by 8 to 10: 21 from the middle; ½ · 20 + √¾ · 10 = 18.7.
    for (const [sx, sy] of [
      [1, 1],
      [1, -1],
      [-1, 1],
      [-1, -1],
    ] as const) {
      const dark = (i: number) => sx * x(i) > 18 && sx * x(i) < 20 && sy * y(i) > 8 && sy * y(i) < 10
      const run = mapped(n, half, (i) => (dark(i) ? 0 : 1), 'face')
      const value = (shape: Lamp['face']['shape']) => readFaceEvenness(run, faced(shape, 40)).evenness!.value
      expect([value('hexagon'), value('square')]).toEqual([0, 0])
      expectWithin(value('round'), 1, rounding)
    }
    // 18 to 20 by 18 to 20 lies on the square alone.
    const run = mapped(n, half, (i) => (x(i) > 18 && y(i) > 18 ? 0 : 1), 'face')
    expect(readFaceEvenness(run, faced('square', 40)).evenness!.value).toBe(0)
    expectWithin(readFaceEvenness(run, faced('hexagon', 40)).evenness!.value, 1, rounding)
  })
})

describe('absent', () => {
  test('no lens in the lamp or in the run, no light on either part', () => {
    const dark = mapped(4, 20, () => 0)
    const bright = mapped(4, 20, () => 1)
    expect(lens(dark, 40)).toEqual({ absent: 'No light reaches the lens.' })
    expect(readLensEvenness(bright, { ...gannet, lens: null })).toEqual({ absent: 'The lamp has no lens.' })
    const bare = filledRun(smallShape(), () => {})
    expect(readLensEvenness(bare, gannet)).toEqual({ absent: 'The lamp has no lens.' })
    expect(readFaceEvenness(bare, faced('round', 40))).toEqual({ absent: 'No light comes back to the face.' })
  })
})
