import { describe, expect, test } from 'vitest'
import type { EyeReading } from '../../src/hazard/eye.ts'
import { luxOf, readInterference } from '../../src/hazard/visualInterference.ts'
import { expectWithin } from '../kit/expect.ts'

const beam = (cd: number, upTo = 1000): EyeReading[] =>
  [0.5, 1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024]
    .filter((m) => m <= upTo)
    .map((m) => ({ distanceMm: 1000 * m, illuminanceLx: cd / m ** 2 }) as EyeReading)
const digits = { rel: 1e-3, because: 'printed digits' }

describe('visual interference', () => {
  test('100 µW/cm², 5 µW/cm² and 50 nW/cm² at 555 nm are 683, 34.2 and 0.342 lx', () => {
    const lux = readInterference(beam(1), 1).levels.map((l) => l.lux)
    expectWithin(lux[0]!, 683, digits)
    expectWithin(lux[1]!, 34.15, digits)
    expectWithin(lux[2]!, 0.3415, digits)
    expectWithin(luxOf(2), 1366, digits)
  })
  test('a laser of a published guide: 5 mW at 532 nm (V 0.885), 1 mrad, flash-blinds to about 76 m, glares to about 370 m, distracts to 3.7 km', () => {
    // 250 and 1200 feet, over 2 miles (a public forum’s post on the FAA’s levels). I = P·683·V/(π/4·α²).
    const cd = (0.005 * 683 * 0.885) / ((Math.PI / 4) * 1e-6)
    const [flash, glare, distract] = readInterference(beam(cd), cd).levels.map((l) => l.metres)
    expectWithin(flash!, 76, { rel: 0.02, because: 'feet to two digits' })
    expectWithin(glare!, 366, { rel: 0.1, because: 'feet to two digits, rounded up' })
    expectWithin(distract!, 3360, { rel: 0.02, because: 'inverse square beyond the last reading' })
  })
  test('nearer than where the inverse square begins the reading decides; nowhere reached is 0', () => {
    // A wide beam: 10⁶ cd far away, but no more than 1000 lx anywhere.
    const wide = beam(1e6).map((r) => ({ ...r, illuminanceLx: Math.min(1000, r.illuminanceLx) }))
    expectWithin(readInterference(wide, 1e6).levels[0]!.metres, Math.sqrt(1e6 / 683.002), digits)
    const dim = wide.map((r) => ({ ...r, illuminanceLx: Math.min(600, r.illuminanceLx) }))
    expect(readInterference(dim, 1e6).levels[0]!.metres).toBe(0)
    const short = beam(1e6).map((r) => ({ ...r, illuminanceLx: r.distanceMm > 3000 ? 0 : 1e5 }))
    expect(readInterference(short, 1e6).levels[0]!.metres).toBe(4)
    expect(readInterference(short, 1e6)).toMatchObject({ peakCd: 1e6 })
  })
  test('exactly at the level is not above it; at the first reading alone the next one bounds it', () => {
    const readings = (first: number) =>
      [first, 0].map((illuminanceLx, k) => ({ distanceMm: 1000 * (k + 1), illuminanceLx }) as EyeReading)
    expect(readInterference(readings(luxOf(1)), 1e6).levels[0]).toEqual({
      ...{ id: 'flashBlindness', name: 'Flash blindness', lux: luxOf(1), metres: 0 },
    })
    expect(readInterference(readings(700), 1e6).levels[0]!.metres).toBe(2)
    expectWithin(readInterference(readings(700), 1000).levels[0]!.metres, Math.sqrt(1000 / 683.002), digits)
  })
  test('names, and nothing without readings', () => {
    expect(readInterference([], 5).levels.map(({ id, name, metres }) => [id, name, metres])).toEqual([
      ['flashBlindness', 'Flash blindness', 0],
      ['glare', 'Glare', 0],
      ['distraction', 'Distraction', 0],
    ])
  })
})
