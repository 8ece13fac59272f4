// Every ray through src/optics/grooves.ts and through a walker that knows no order of rings; and single rays by hand.
import { describe, expect, test } from 'vitest'
import { draw, drawAt, seedStream } from '../../../src/optics/draws.ts'
import { passFresnel } from '../../../src/optics/grooves.ts'
import * as P from '../../../src/optics/params.ts'
import {
  DX,
  DZ,
  ENDS_AT_LIMIT,
  ENDS_AT_RIM,
  LEAVES_FLAT,
  LEAVES_WORKED,
  PATH,
  RISER,
  W,
  X,
  Z,
} from '../../../src/optics/records.ts'
import { slopeToSource, slopeToTarget } from '../../../src/optics/slopes.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type Grooves, grooveTables, type LensTables, rayAt } from '../../kit/lensBench.ts'
import { slowGrooves } from '../../kit/slowGrooves.ts'
import { bent, directionOf, type V } from '../../kit/vectors.ts'

const N = 1.49
const near = { abs: 1e-6, because: 'rounding over some tens of crossings' }

const slopes = (grooves: string, rings: number, pitch: number) =>
  Array.from({ length: rings }, (_, k) => {
    if (grooves === 'target') return slopeToTarget((k + 0.5) * pitch, 75, 3, N)
    if (grooves === 'source') return slopeToSource((k + 0.5) * pitch, 75, N)
    return grooves === 'falling' ? 0.9 - 0.06 * k : k % 2 ? 0.3 : 0.9
  })

interface Case extends Partial<Grooves> {
  to: 'target' | 'source' | 'falling' | 'uneven'
  back?: boolean
  /** Radii that the rays begin at. */
  between?: [number, number]
}

const CASES: Case[] = [
  { to: 'target', halfMm: 51 },
  { to: 'source', halfMm: 48, draftRad: 0.07 },
  { to: 'source', halfMm: 50 },
  { to: 'falling', halfMm: 48, draftRad: 0.2 },
  { to: 'falling', halfMm: 52 },
  { to: 'target', halfMm: 51, tipShare: 0.3, draftRad: 0.07 },
  { to: 'source', halfMm: 30, tipShare: 0.3, square: true },
  { to: 'target', halfMm: 30, draftRad: 0.1, square: true },
  { to: 'target', halfMm: 51, tipShare: 0.3, draftRad: 0.07, back: true },
  { to: 'source', halfMm: 30, tipShare: 0.4, square: true, back: true },
  { to: 'source', halfMm: 49, tipShare: 0.95, back: true },
  { to: 'target', halfMm: 48, back: true },
  { to: 'source', halfMm: 48, between: [0, 6], draftRad: 0.07 },
  { to: 'target', halfMm: 48, between: [0, 6] },
  { to: 'falling', halfMm: 48, between: [0, 1.5], draftRad: 0.2 },
  { to: 'uneven', halfMm: 51 },
  { to: 'uneven', halfMm: 51, draftRad: 0.1 },
  { to: 'uneven', halfMm: 48, draftRad: 0.45 },
  { to: 'uneven', halfMm: 60, between: [48.1, 59] },
  { to: 'source', halfMm: 90, draftRad: 0.1, between: [48.1, 70] },
]
const rays = 32

describe.each(CASES)('to the $to, half $halfMm, draft $draftRad, tips $tipShare, square $square, back $back', (o) => {
  const stream = new Int32Array(3)

  test.each([true, false])('from the grooves %s', (fromGrooves) => {
    const lens = grooveTables({
      halfMm: 48,
      thicknessMm: 3,
      pitchMm: 4,
      slopes: slopes(o.to, 12, 4),
      absorption: 0.02,
      ...o,
    })
    for (let i = 0; i < rays; i++) {
      seedStream(stream, 3, fromGrooves ? 1 : 0, i)
      const [least, most] = o.between ?? [0, (o.halfMm ?? 48) * (o.square ? 1.35 : 1) - 0.1]
      const r = Math.sqrt(least ** 2 + (most ** 2 - least ** 2) * draw(stream))
      const phi = 2 * Math.PI * draw(stream)
      const at: V = [r * Math.cos(phi), r * Math.sin(phi), fromGrooves ? lens.p[P.lensLayer]! : -3]
      const sign = fromGrooves ? -1 : 1
      const [a, b] = [draw(stream), draw(stream)]
      const steep = directionOf(0.5 + 0.5 * a ** (i % 3 === 0 ? 3 : 0.5), b)
      const towards: V =
        i % 2 ? [steep[0], steep[1], sign * steep[2]] : [at[0] + 20 * (a - 0.5), at[1] + 20 * (b - 0.5), 75 * sign]
      const ray = rayAt(at, towards, N)
      const copy = stream.slice()
      const begin = [...ray.subarray(DX, DX + 3)] as [number, number, number]
      const slow = slowGrooves(lens, { at: [...at], towards: begin, index: N }, copy, fromGrooves, o.back)
      ray[W] = 0.5
      const outcome = passFresnel(ray, stream, lens.p, lens.rings, fromGrooves, o.back)
      const which = `ray ${i} at ${at}, towards ${towards}`
      expect([outcome, ray[RISER], ...stream], which).toEqual([slow.outcome, slow.riser ? 1 : 0, ...copy])
      for (const k of [0, 1, 2] as const) {
        // At the rim only the place across matters.
        if (k < 2 || outcome !== ENDS_AT_RIM) expectWithin(ray[X + k]!, slow.at[k], near)
        expectWithin(ray[DX + k]!, slow.towards[k], near)
      }
      expectWithin(ray[PATH]!, slow.pathMm, near)
      expectWithin(ray[W]!, 0.5 * slow.tipWeight * Math.exp(-0.02 * slow.pathMm), near)
    }
  })
})

describe('by hand', () => {
  const stream = new Int32Array(3)
  const slab = (over: Partial<Grooves> = {}) =>
    grooveTables({ halfMm: 10, thicknessMm: 2, pitchMm: 4, slopes: [], absorption: 0, ...over })
  /** One passage, repeated with other draws until it ends so. */
  function until(lens: LensTables, make: () => Float64Array, fromGrooves: boolean, outcome: number): Float64Array {
    for (let i = 0; i < 2000; i++) {
      seedStream(stream, 1, 0, i)
      const ray = make()
      if (passFresnel(ray, stream, lens.p, lens.rings, fromGrooves) === outcome) return ray
    }
    throw new Error('never so')
  }
  const oblique: V = [0.6, 0, 0.8]
  const inGlass = bent(oblique, [0, 0, -1], 1 / N)!

  test('without a whole ring it is a slab: a step aside of t tanθ′', () => {
    const ray = until(slab(), () => rayAt([1, 2, -2], oblique, N), false, LEAVES_WORKED)
    const step = (2 * inGlass[0]) / inGlass[2]
    for (const [k, v] of [1 + step, 2, 0, ...oblique].entries()) expectWithin(ray[X + k]!, v, near)
    expectWithin(ray[PATH]!, 2 / inGlass[2], near)
  })

  test('without a whole ring the axis is a place like others', () => {
    const lens = slab()
    lens.p[P.lensLayer] = 12
    // Crosses the axis on its way down, meets the flat rest at x = 5 − 9, leaves by the flat side.
    const g = bent([-0.6, 0, -0.8], [0, 0, 1], 1 / N)!
    const ray = until(lens, () => rayAt([5, 0, 12], [-0.6, 0, -0.8], N), true, LEAVES_FLAT)
    expectWithin(ray[X]!, -4 + (2 * g[0]) / -g[2], near)
    expectWithin(ray[PATH]!, 2 / -g[2], near)
  })

  test('the flat side reflects as a mirror does, the path in glass being 0', () => {
    const ray = until(slab(), () => rayAt([1, 2, -2], oblique, N), false, LEAVES_FLAT)
    if (ray[PATH] === 0) expect([...ray.subarray(X, X + 6)]).toEqual([1, 2, -2, 0.6, 0, -0.8])
  })

  test('the aperture’s edge belongs to the lens, round or square', () => {
    for (const square of [false, true]) {
      const lens = slab({ square })
      for (const [at, ends] of [
        [[10, 0], false],
        [[0, -10], false],
        [[10.001, 0], true],
        [[0, -10.001], true],
        [[7.5, 7.5], !square],
      ] as const)
        for (let i = 0; i < 20; i++) {
          seedStream(stream, 2, 0, i)
          const ray = rayAt([at[0], at[1], -2], [0, 0, 1], N)
          const outcome = passFresnel(ray, stream, lens.p, lens.rings, false)
          if (outcome !== LEAVES_FLAT) expect(outcome).toBe(ends ? ENDS_AT_RIM : LEAVES_WORKED)
          // Down onto the rest.
          const down = rayAt([at[0], at[1], 0.5], [0, 0, -1], N)
          lens.p[P.lensLayer] = 0.5
          const below = passFresnel(down, stream, lens.p, lens.rings, true)
          if (below !== LEAVES_WORKED) expect(below).toBe(ends ? ENDS_AT_RIM : LEAVES_FLAT)
        }
    }
  })

  test('level beside the rings it has left the lens', () => {
    const lens = slab({ slopes: [0.3] })
    seedStream(stream, 2, 0, 0)
    expect(passFresnel(rayAt([6, 0, lens.p[P.lensLayer]!], [1, 0, 0], N), stream, lens.p, lens.rings, true)).toBe(
      ENDS_AT_RIM,
    )
  })

  test('along the flat side between equal media: back as it came', () => {
    seedStream(stream, 2, 0, 0)
    const ray = rayAt([1, 2, -2], [1, 0, 0], 1)
    const lens = slab()
    expect(passFresnel(ray, stream, lens.p, lens.rings, false)).toBe(LEAVES_FLAT)
    expect(stream[2]).toBe(8)
  })

  test('light that total reflection holds is given up after 400 surfaces', () => {
    // A tip scatters it into an endless slab, flatter than the critical angle.
    const lens = slab({ halfMm: 1e7, pitchMm: 1, thicknessMm: 1, slopes: [0.3], tipShare: 1 })
    const ray = until(lens, () => rayAt([0.5, 0, lens.p[P.lensLayer]!], [0, 0, -1], N), true, ENDS_AT_LIMIT)
    expectWithin(ray[PATH]! * Math.abs(ray[DZ]!), 400, { abs: 1e-6, because: 'rounding of 400 slabs of 1 mm' })
    expect(ray[RISER]).toBe(1)
    expect(Math.abs(ray[Z]! * (ray[Z]! + 1))).toBeLessThan(1e-9)
  })

  test('a draw at the tips’ share itself passes by, from below and from above', () => {
    for (const above of [false, true])
      for (let i = 0; i < 10; i++) {
        seedStream(stream, 1, 0, i)
        const lens = slab({ pitchMm: 10, slopes: [0.2], tipShare: drawAt(stream, above ? 8 : 9) })
        const at: V = [4, 0, above ? lens.p[P.lensLayer]! : -2]
        const d: V = [0, 0, above ? -1 : 1]
        const copy = stream.slice()
        const slow = slowGrooves(lens, { at: [...at], towards: [...d], index: N }, copy, above)
        const ray = rayAt(at, d, N)
        expect(passFresnel(ray, stream, lens.p, lens.rings, above)).toBe(slow.outcome)
        expect(stream).toEqual(copy)
        expect(ray[RISER]).toBe(slow.riser ? 1 : 0)
      }
  })

  test('the middle of a draw’s cell decides: half a cell above the reflectance it refracts', () => {
    for (let i = 0; i < 20; i++) {
      seedStream(stream, 4, 0, i)
      // ((n − 1)/(n + 1))² half a cell below the first draw.
      const amplitude = Math.sqrt(drawAt(stream, 8) - 2 ** -25)
      const ray = rayAt([4, 0, -2], [0, 0, 1], (1 + amplitude) / (1 - amplitude))
      const lens = slab()
      passFresnel(ray, stream, lens.p, lens.rings, false)
      if (amplitude < 0.9) expect(ray[PATH]).toBeGreaterThan(0)
    }
  })

  test('one ring: a cone refracts towards the axis by Snell', () => {
    const alpha = 0.3
    const lens = slab({ pitchMm: 10, slopes: [alpha] })
    const ray = until(lens, () => rayAt([4, 0, -2], [0, 0, 1], N), false, LEAVES_WORKED)
    const d = bent([0, 0, 1], [Math.sin(alpha), 0, Math.cos(alpha)], N)!
    for (const k of [0, 1, 2] as const) expectWithin(ray[DX + k]!, d[k], near)
    const z = 6 * Math.tan(alpha)
    const layer = 10 * Math.tan(alpha)
    expectWithin(ray[X]!, 4 + ((layer - z) * d[0]) / d[2], near)
    expectWithin(ray[PATH]!, 2 + z, near)
    expect([ray[Z], ray[RISER]]).toEqual([layer, 0])
  })
})
