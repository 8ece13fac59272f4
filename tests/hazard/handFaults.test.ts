// Sun and light at what small faults put in by hand got past. Closed forms.
import { expect, test } from 'vitest'
import { joinFronts } from '../../src/hazard/frontWhole.ts'
import { onFrontKWm2, type PartsHeat } from '../../src/hazard/onParts.ts'
import { readRisks } from '../../src/hazard/risks.ts'
import { openingMm2 } from '../../src/hazard/sunBound.ts'
import { readSunDay, USUAL_SUN } from '../../src/hazard/sunDay.ts'
import { readBareLens, type SunMapPoint } from '../../src/hazard/sunMap.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'

const gannet = gannetHead()
const point = (tiltDeg: number): SunMapPoint => ({
  ...{
    kWm2: 5,
    se: 0,
    xMm: 0,
    yMm: 0,
    zMm: 0,
    discMm: 10,
    tiltDeg,
    azimuthDeg: 0,
    lands: 'board',
    board: 'B1',
    flat: null,
  },
})

test('a sheet of 80 × 30 mm before a mouth of 60 mm, 30 mm apart: √(A² + (L·D)²), D its diagonal', () => {
  const lens = { kind: 'ideal', zMm: 200, focalMm: 200, aperture: 'rectangle', diameterMm: 80, heightMm: 30 }
  const tunnel = { ...gannet.tunnel!, sides: 0, inMm: 40, outMm: 60, zInMm: 5, zOutMm: 170 }
  const lamp = { ...gannet, lens, tunnel } as Lamp
  expectWithin(openingMm2(lamp), Math.hypot(Math.PI * 900, 30 * Math.sqrt(7300)), {
    rel: 1e-12,
    because: 'closed form',
  })
})

test('a sun five degrees over the horizon shines into a lens that looks straight up', () => {
  // At the pole the sun is as high as its declination all day: 5° in the first days of April.
  const place = { ...USUAL_SUN, latitudeDeg: 90, month: 4, day: 3, strength: 'flat' as const }
  const day = readSunDay(gannet, [point(0), point(75)], 1000, place)
  expectWithin(day.declinationDeg, 5, { abs: 0.5, because: 'a day is 0.4°' })
  expect(day.worst?.kWm2).toBe(5)
  expect(day.moments.every((m) => m.kWm2 === 5)).toBe(true)
})

test('of two lenses the spot wanders slowest behind the nearer one: 10 mm at 200 mm, 15° cos 23.44° an hour, 749.4 s', () => {
  const lens = { kind: 'ideal', zMm: 200, focalMm: 200, diameterMm: 80 }
  const second = { ...lens, zMm: 1200, name: 'Second' }
  const lamp = { ...gannet, tunnel: null, lens, elements: [second] } as unknown as Lamp
  const day = readSunDay(lamp, [point(0), point(75)], 1000, { ...USUAL_SUN, strength: 'flat' })
  expectWithin(day.staysSeconds!, 749.4, { rel: 1e-4, because: 'printed digits' })
})

test('a lens alone: behind it and before it the upper ends, of all directions the one that may be hottest', () => {
  const place = (zone: 'inside' | 'front', zMm: number, kWm2: number, se: number) => ({
    ...{ zone, xMm: 0, yMm: 0, zMm, kWm2, se, discMm: 10, dx: 0, dy: 0, dz: -1, spreadRad: 0.1 },
  })
  const suns = [
    { tiltDeg: 0, places: [place('inside', -900, 100, 1), place('front', 300, 5, 0)] },
    { tiltDeg: 5, places: [place('inside', -890, 99, 2), place('front', 280, 4, 1)] },
  ]
  const bare = readBareLens(suns, gannet.lens!, 10)!
  // 99 + 2.131 · 2, 4 + 2.131 · 1 kW/m².
  expectWithin(bare.kWm2, 103.262, { rel: 1e-9, because: 'by hand' })
  expect([bare.tiltDeg, bare.focusMm, bare.before?.tiltDeg, bare.before?.distanceMm]).toEqual([5, 900, 5, 270])
  expectWithin(bare.before!.kWm2, 6.131, { rel: 1e-9, because: 'by hand' })
  // 15° an hour at 900 mm.
  expectWithin(bare.mmPerMinute, 3.927, { rel: 1e-4, because: 'printed digits' })
})

test('paper in air of 60 °C: 3.49 kW/m² light it, and at 10 kW/m² the 170 K to 230 °C take ρcd ΔT/q = 1.822 s', () => {
  const front = { worst: null, curve: [{ distanceMm: 100, kWm2: 10, se: 0, discMm: 10 }] }
  const paper = readRisks(front, 60).find((r) => r.material.startsWith('Newspaper'))!
  expect(paper.criticalKWm2).toBe(3.49)
  expectWithin(paper.secondsAtWorst!, 1.822, { rel: 1e-3, because: 'printed digits' })
})

test('what lies on the front meets what the lens has, or the foremost of the other pieces, whichever is more', () => {
  const on = (lens: number | null, ...elements: number[]) =>
    onFrontKWm2({
      lens: lens === null ? null : { kWm2: lens },
      elements: elements.map((kWm2) => ({ kWm2 })),
    } as Pick<PartsHeat, 'lens' | 'elements'>)
  expect([on(2, 1, 5), on(9, 1, 5), on(2, 5, 1), on(null, 3), on(null)]).toEqual([5, 9, 2, 3, 0])
})

test('of two searches the worst place is the one that may be hotter: 4 + 2.131 · 1 over 5 kW/m²', () => {
  const worst = (kWm2: number, se: number) => ({ kWm2, se, xMm: 0, yMm: 0, zMm: 0, discMm: 10 })
  const [sure, unsure] = [worst(5, 0), worst(4, 1)]
  expect(joinFronts({ worst: sure, curve: [] }, { worst: unsure, curve: [] }).worst).toBe(unsure)
  expect(joinFronts({ worst: unsure, curve: [] }, { worst: sure, curve: [] }).worst).toBe(unsure)
})
