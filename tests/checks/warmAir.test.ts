// Air of 60 °C, as in a closed car or a tent in the sun: what burns or softens needs less light than in a cool room. Limits by pencil: a
// black surface at T loses 0.9 σ (T⁴ − T₀⁴) + 5 W/m²K (T − T₀), T₀ = 333.15 K; three digits, rounded down.
import { describe, expect, test } from 'vitest'
import { checkSheet } from '../../src/checks/check.ts'
import { checkDanger } from '../../src/checks/danger.ts'
import type { DangerParts } from '../../src/checks/dangerParts.ts'
import type { SheetParts } from '../../src/checks/parts.ts'
import { readSunDay, USUAL_SUN } from '../../src/hazard/sunDay.ts'
import type { SunMapPoint } from '../../src/hazard/sunMap.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import type { HotSpot } from '../../src/run/figure.ts'

const gannet = gannetHead()
const warm: Lamp = { ...gannet, reading: { ...gannet.reading, ambientC: 60 } }
const spot = (kWm2: number): HotSpot => ({ kWm2, se: 0, xMm: 1, yMm: 2, zMm: 400, discMm: 10 })
const calm: SheetParts = {
  ...{ state: 'settled', figures: {}, hotSpots: {}, risks: [], patterned: false, variants: [] },
  sun: [{ ...spot(0.5), tiltDeg: 0, lands: 'face' }],
}
const severities = (rule: string, parts: (kWm2: number) => Partial<SheetParts>, ...kWm2: number[]) =>
  kWm2.map((q) => checkSheet(warm, { ...calm, ...parts(q) }).find((f) => f.rule === rule)?.severity)

describe('the beam sheet', () => {
  test('black plastic: softens at 76 °C from 0.209 kW/m² on, ignites at 300 °C from 6.07 kW/m² on (in 20 °C: 0.661 and 6.53)', () => {
    expect(severities('face-hot', (q) => ({ hotSpots: { face: spot(q) } }), 0.208, 0.21, 6.06, 6.08)).toEqual([
      ...[undefined, 'warning', 'warning', 'severe'],
    ])
    const sun = (q: number): Partial<SheetParts> => ({ sun: [{ ...spot(q), tiltDeg: 3, lands: 'face' }] })
    expect(severities('sun-inside', sun, 6.06, 6.08)).toEqual(['warning', 'severe'])
  })
  test('dirty acrylic ignites at 278 °C from 5.17 kW/m² on (in 20 °C: 5.62), and says so', () => {
    const onLens = (q: number): Partial<SheetParts> => ({ hotSpots: { lens: spot(q) } })
    expect(severities('lens-hot', onLens, 5.16, 5.18)).toEqual(['warning', 'severe'])
    const found = checkSheet(warm, { ...calm, ...onLens(5.2) }).find((f) => f.rule === 'lens-hot')
    expect(found?.why).toContain('It can ignite from 5.17 kW/m² on: ')
  })
  test('wood behind the wall chars at 250 °C from 4.14 kW/m² on, under the 4.3 of tests', () => {
    const mirror = { ...warm, tunnel: { ...warm.tunnel!, reflectance: 0.5 } }
    const of = (q: number) =>
      checkSheet(mirror, { ...calm, hotSpots: { wall: spot(q) } }).find((f) => f.rule === 'wall-hot')
    expect([8.26, 8.3].map((q) => of(q)?.severity)).toEqual(['warning', 'severe'])
    expect(of(9)?.why).toContain('chars from 4.14 kW/m² taken in')
    // Little is taken in: the light itself.
    const shiny = { ...warm, tunnel: { ...warm.tunnel!, reflectance: 0.95 } }
    const seen = (q: number) =>
      checkSheet(shiny, { ...calm, hotSpots: { wall: spot(q) } }).some((f) => f.rule === 'wall-hot')
    expect([4.13, 4.15].map(seen)).toEqual([false, true])
  })
})

describe('the danger sheet: paper at 230 °C, 3.49 kW/m² (in 20 °C: 3.94)', () => {
  const nothing: DangerParts = {
    ...{ clear: [], things: [], sunMap: [], sunPlaces: [], sunDay: null, bareLens: null, eye: null },
    beside: { leakedW: 0, worst: null, curve: [] },
    parts: { lens: null, elements: [], wall: null, boards: null, optics: [], absent: {} },
  }
  const find = (rule: string, over: Partial<DangerParts>) =>
    checkDanger(warm, { ...nothing, ...over }).find((f) => f.rule === rule)
  test.each(['outside', 'front'] as const)('the sun thrown %s the lamp', (zone) => {
    const place = (q: number) => ({
      ...{ ...spot(q), dx: 0, dy: 0, dz: -1, spreadRad: 0.1, tiltDeg: 5, azimuthDeg: 0 },
      ...{ zone, byDisc: [] },
    })
    const rule = zone === 'outside' ? 'sun-beside' : 'sun-thrown-back'
    expect([3.48, 3.5].map((q) => find(rule, { sunPlaces: [place(q)] })?.severity)).toEqual(['warning', 'severe'])
  })
  test('the lens alone, and what it throws back', () => {
    const bare = (kWm2: number, before: number) => ({
      bareLens: {
        ...{ kWm2, focusMm: 900, tiltDeg: 0, discMm: 10, sunImageMm: 8, mmPerMinute: 4 },
        before: { kWm2: before, distanceMm: 300, tiltDeg: 0 },
      },
    })
    expect([3.48, 3.5].map((q) => find('bare-lens', bare(q, 0))?.severity)).toEqual([undefined, 'severe'])
    expect([3.48, 3.5].map((q) => /It throws back/.test(find('bare-lens', bare(99, q))?.title ?? ''))).toEqual([
      ...[false, true],
    ])
  })
})

test('a day in the sun: the hours count from where plastic ignites in this air, 6.07 kW/m², and wood chars, 4.14 kW/m²', () => {
  const map = (kWm2: number): SunMapPoint[] =>
    [0, 60].map((tiltDeg) => ({
      ...{ ...spot(kWm2), tiltDeg, azimuthDeg: 0, lands: 'board' as const, board: 'B1', flat: null },
    }))
  const day = (kWm2: number) => readSunDay(warm, map(kWm2), 1000, { ...USUAL_SUN, strength: 'flat' })
  expect([6.06, 6.08].map((q) => day(q).hoursOverPlastic > 0)).toEqual([false, true])
  expect([4.13, 4.15].map((q) => day(q).hoursOverWood > 0)).toEqual([false, true])
  // The hours and the seconds say the same.
  for (const q of [6.06, 6.08]) expect(day(q).hoursOverPlastic > 0).toBe(day(q).plasticSeconds !== null)
})
