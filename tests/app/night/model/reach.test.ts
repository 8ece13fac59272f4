// How far a beam reaches, against distances by hand.
import { expect, test } from 'vitest'
import { extinctionPerM } from '../../../../src/app/night/model/air.ts'
import { knownLevel, litWidthM, luxInBeam, reachM } from '../../../../src/app/night/model/reach.ts'

test('beam distances at 0.25 lx: d = 2 √I (ANSI/NEMA FL 1-2009, 1.2.1)', () => {
  for (const [cd, m] of [
    [100, 20],
    [1e4, 200],
    [1e5, 632.456],
    [1e6, 2000],
  ] as const)
    expect(reachM(cd, 0, 0.25)).toBeCloseTo(m, 2)
  expect(reachM(0, 0, 0.25)).toBe(0)
})

test('through haze the beam has the wanted level where it ends; at the visibility a fiftieth of the light is left (Koschmieder 1924)', () => {
  const perM = extinctionPerM(1000)
  expect(luxInBeam(1e6, perM, 1000)).toBeCloseTo(1 / 50, 9)
  const m = reachM(1e6, perM, 5)
  expect(m).toBeLessThan(reachM(1e6, 0, 5))
  expect(luxInBeam(1e6, perM, m)).toBeCloseTo(5, 6)
})

test('beside the axis it is lit as far as the intensity allows: half of it at 3°', () => {
  // 1e6 cd at 1 km is 1 lx; half a lux at 3°, where r² is 0.3 % more than d².
  const profile = { thetaDeg: [0, 2, 4, 180], cd: [1e6, 1e6, 0, 0] }
  const byHand = 1000 * Math.tan((3 * Math.PI) / 180)
  // 1 m: steps of 0.05°.
  expect(Math.abs(litWidthM({ profile }, 0, 1000, 0.5)! - byHand)).toBeLessThan(1)
  expect(litWidthM({ profile }, 0, 1000, 2)).toBeNull()
})

test('what levels are known from', () => {
  // EN 13201-2:2015, P6 to P1: 2 to 15 lx. EN 12464-1:2021, office work 500 lx. FL 1: 0.25 lx. From memory but the last.
  for (const lx of [2, 7.5, 15]) expect(knownLevel(lx)).toBe('a lit street')
  expect(knownLevel(500)).toBe('an office')
  expect(knownLevel(0.25)).toBe('a full moon')
  expect(knownLevel(0)).toBe('no light')
})
