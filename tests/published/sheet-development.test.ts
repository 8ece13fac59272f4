// Flat patterns against sheet-metal geometry, each DXF read back by a parser that is not ours. Formulas from memory of handbooks of pattern
// drafting: a frustum of slant s between diameters d < D unrolls to radii s d / (D − d) and that plus s, over 360° (D − d) / (2 s); a bend
// of angle A takes A (r + K t) of the sheet.
import { describe, expect, test } from 'vitest'
import type { Lamp } from '../../src/lamp/schema.ts'
import { paraboloidTunnel } from '../../src/layout/reflectors.ts'
import { slipLight } from '../../src/library/demosAssembled.ts'
import { drawnDxf } from '../kit/drawn.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { loopArea, onLayer, onlyLoop } from '../kit/readDxf.ts'

const SHEET = { widthMm: 3000, heightMm: 3000 }
const HUNDREDTH = { abs: 0.01, because: 'a hundredth of a millimetre: ten times finer than any cutter' }
const BARE = { kerfMm: 0, sheetMm: SHEET, seam: { kind: 'butt' as const } }

type Workshop = NonNullable<Lamp['workshop']>

const cone = (inMm: number, outMm: number, highMm: number, workshop: Workshop = {}): Lamp =>
  lampWith({
    tunnel: { inMm, outMm, zInMm: 20, zOutMm: 20 + highMm },
    lens: { zMm: 1200 },
    workshop: { ...BARE, tunnelThicknessMm: 0.05, ...workshop },
  })

const length = ([[x, y], [u, v]]: readonly (readonly [number, number])[] & {
  0: readonly [number, number]
  1: readonly [number, number]
}) => Math.hypot(u - x, v - y)

describe('a cone', () => {
  test.each([
    [200, 560, 1026],
    [90, 100, 126],
    [300, 120, 80],
  ])('%i to %i mm over %i mm unrolls to the handbook’s sector', async (inMm, outMm, highMm) => {
    const loop = onlyLoop(await drawnDxf(cone(inMm, outMm, highMm), 'tunnel'), 'OUTLINE')
    const [d, D] = [Math.min(inMm, outMm), Math.max(inMm, outMm)]
    const slant = Math.hypot(highMm, (D - d) / 2)
    // The middle of 0.05 mm sheet lies 0.025 mm outside: radii of the cone grow by that times the cosine of its half angle.
    const grown = (0.025 * highMm) / slant
    const sine = (D - d) / 2 / slant
    const inner = (slant * d) / (D - d) + grown / sine
    const [first, second] = loop.radii.flatMap((r) => (r === null ? [] : [r])).sort((a, b) => a - b)
    expectWithin(first ?? 0, inner, HUNDREDTH)
    expectWithin(second ?? 0, inner + slant, HUNDREDTH)
    const angle = (2 * Math.PI * (D - d)) / (2 * slant)
    expectWithin(loopArea(loop), (angle * ((inner + slant) ** 2 - inner ** 2)) / 2, {
      rel: 1e-6,
      because: '2000 chords an arc',
    })
    // Rolled up it meets itself: both arcs are as long as the circles about the neutral surface, and both edges as the slant.
    const [a, b, c, e] = loop.corners
    if (!a || !b || !c || !e) throw new Error('no four corners')
    expectWithin(length([b, c]), slant, HUNDREDTH)
    expectWithin(length([e, a]), slant, HUNDREDTH)
    const [short, long] = loop.arcsMm.toSorted((p, q) => p - q)
    expectWithin(short ?? 0, Math.PI * (d + 2 * grown), HUNDREDTH)
    expectWithin(long ?? 0, Math.PI * (D + 2 * grown), HUNDREDTH)
  })

  test('its parts, rolled up together, make the whole round', async () => {
    const lamp = cone(200, 560, 1026, { sheetMm: { widthMm: 1000, heightMm: 1200 } })
    const loop = onlyLoop(await drawnDxf(lamp, 'tunnel-part'), 'OUTLINE')
    const parts = Number(
      /Cut (\d+)/.exec((await drawnDxf(lamp, 'tunnel-part')).texts.map((t) => t.text).join(' '))?.[1],
    )
    expect(parts).toBeGreaterThan(1)
    const slant = Math.hypot(1026, 180)
    expectWithin(parts * Math.min(...loop.arcsMm), Math.PI * (200 + (0.05 * 1026) / slant), HUNDREDTH)
  })

  test('a cylinder is a rectangle, as long as its neutral circle', async () => {
    const loop = onlyLoop(await drawnDxf(cone(150, 150, 200, { tunnelThicknessMm: 2 }), 'tunnel'), 'OUTLINE')
    expect(loop.radii.every((r) => r === null)).toBe(true)
    // Rolled sheet: the middle of 2 mm lies 1 mm outside.
    expectWithin(loopArea(loop), Math.PI * 152 * 200, {
      abs: 0.1,
      because: 'rounding of corners to 1e-6 mm over half a metre',
    })
  })

  test('half a kerf is added all round, and a flap beside the edge', async () => {
    const plain = onlyLoop(await drawnDxf(cone(90, 100, 126), 'tunnel'), 'OUTLINE')
    const kerfed = onlyLoop(await drawnDxf(cone(90, 100, 126, { kerfMm: 0.4 }), 'tunnel'), 'OUTLINE')
    const flapped = onlyLoop(
      await drawnDxf(cone(90, 100, 126, { seam: { kind: 'flap', widthMm: 12 } }), 'tunnel'),
      'OUTLINE',
    )
    const slant = Math.hypot(126, 5)
    const around = Math.PI * (90 + 100) + 4 * 0.025 * Math.PI + 2 * slant
    // Four right angles: area + d × length + 4 d².
    expectWithin(loopArea(kerfed) - loopArea(plain), 0.2 * around + 4 * 0.04, {
      abs: 0.02,
      because: 'the sum of two rounded areas',
    })
    // A trapezium whose far side is 12 mm shorter.
    expectWithin(loopArea(flapped) - loopArea(plain), 12 * (slant - 6), {
      abs: 0.02,
      because: 'the sum of two rounded areas',
    })
  })
})

describe('flat walls', () => {
  const hexagon = lampWith({
    tunnel: { sides: 6, inMm: 250, outMm: 320, zInMm: 16, zOutMm: 140 },
    workshop: { ...BARE, tunnelThicknessMm: 1, bendK: 0.4 },
  })

  test('a hexagonal pyramid’s panels close: edges alike, ends across flats, one bend’s allowance between them', async () => {
    const read = await drawnDxf(hexagon, 'tunnel')
    const { corners } = onlyLoop(read, 'OUTLINE')
    expect(corners).toHaveLength(24)
    const bottoms = corners.slice(0, 12)
    const tops = corners.slice(12).toReversed()
    const edge = Math.hypot(124, 35 / Math.cos(Math.PI / 6))
    const cosine = Math.cos(Math.atan(35 / 124)) ** 2 * 0.5 + Math.sin(Math.atan(35 / 124)) ** 2
    for (let i = 0; i < 12; i++) {
      const [bottom, top, nextBottom, nextTop] = [bottoms[i], tops[i], bottoms[i + 1], tops[i + 1]]
      if (!bottom || !top) throw new Error('no edge')
      expectWithin(length([bottom, top]), edge, HUNDREDTH)
      if (!nextBottom || !nextTop) continue
      const isPanel = i % 2 === 0
      const bend = Math.acos(cosine) * 0.4 * 1
      expectWithin(length([bottom, nextBottom]), isPanel ? 250 * Math.tan(Math.PI / 6) : bend, HUNDREDTH)
      expectWithin(length([top, nextTop]), isPanel ? 320 * Math.tan(Math.PI / 6) : bend, HUNDREDTH)
    }
    expect(onLayer(read.loops, 'BEND')).toHaveLength(5)
  })

  test('a rectangular frustum’s four panels: widths, and every edge as long in space', async () => {
    const lamp = lampWith({ workshop: { ...BARE, tunnelThicknessMm: 0.05 } }, slipLight())
    const { corners } = onlyLoop(await drawnDxf(lamp, 'tunnel'), 'OUTLINE')
    const bottoms = corners.slice(0, 8)
    const tops = corners.slice(8).toReversed()
    const widths = [
      [84, 110],
      [150, 300],
      [84, 110],
      [150, 300],
    ] as const
    for (const [i, [below, above]] of widths.entries()) {
      const [bl, br, tl, tr] = [bottoms[2 * i], bottoms[2 * i + 1], tops[2 * i], tops[2 * i + 1]]
      if (!bl || !br || !tl || !tr) throw new Error('no panel')
      expectWithin(length([bl, br]), below, HUNDREDTH)
      expectWithin(length([tl, tr]), above, HUNDREDTH)
      for (const side of [
        [bl, tl],
        [br, tr],
      ] as const)
        expectWithin(length(side), Math.hypot(116, 75, 13), HUNDREDTH)
    }
  })

  test('its single panels have the same sizes', async () => {
    const lamp = lampWith({ workshop: BARE }, slipLight())
    for (const [sheet, below, above, lean] of [
      ['tunnel-panel-x', 84, 110, 75],
      ['tunnel-panel-y', 150, 300, 13],
    ] as const) {
      const loop = onlyLoop(await drawnDxf(lamp, sheet), 'OUTLINE')
      expectWithin(loopArea(loop), ((below + above) / 2) * Math.hypot(116, lean), {
        abs: 0.05,
        because: 'corners rounded to 1e-6 mm',
      })
    }
  })
})

describe('gores of a paraboloid', () => {
  const made = paraboloidTunnel({
    ...{ focalMm: 60, focusZMm: 30, inMm: 180, outMm: 400 },
    finish: { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 },
  })
  if (!made.ok) throw new Error(made.why)
  const { tunnel } = made
  const lamp = lampWith({ face: { sizeMm: 160 }, boards: [], tunnel, workshop: { ...BARE, tunnelThicknessMm: 0.05 } })

  test('are as long as the curve, and as wide at its ends as a polygon about it', async () => {
    const read = await drawnDxf(lamp, 'tunnel-gore')
    const { points } = onlyLoop(read, 'OUTLINE')
    const count = Number(/Cut (\d+)/.exec(read.texts.map((t) => t.text).join(' '))?.[1])
    expect(count).toBe(16)
    const ys = points.map(([, y]) => y)
    const xs = points.map(([x]) => x)
    // Length of y = r² / 4f from r = 90 to 200: 2f (u √(1 + u²) + asinh u) / 2 with u = r / 2f.
    const along = (r: number) => 60 * ((r / 120) * Math.hypot(1, r / 120) + Math.asinh(r / 120))
    const width = Math.max(...xs) - Math.min(...xs)
    expectWithin(width, 2 * 200 * Math.tan(Math.PI / 16), HUNDREDTH)
    const slopeDeg = (r: number) => Math.atan2(120, r)
    const turned = (slopeDeg(90) - slopeDeg(200)) * 0.4 * 0.05
    expectWithin(Math.max(...ys) - Math.min(...ys), along(200) - along(90) + turned, HUNDREDTH)
  })
})
