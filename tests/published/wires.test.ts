// Wire: ASTM B258 (diameters), NBS Handbook 100 / IACS (resistances), IEC 60228 (metric), NEC (ampacity), each as printed.

import { describe, expect, test } from 'vitest'
import { awgFor, gaugeInEither } from '../../src/library/wireGauge.ts'
import { inSystem } from '../../src/num/quantity.ts'
import { FUSE_AMPS, fuseMostA, fuseRange, opensAtA, opensWords, usualBreaks } from '../../src/power/fuse.ts'
import {
  ampacityA,
  awgDiameterMm,
  bundleShare,
  gaugeAreaMm2,
  gaugeWords,
  insulationAtC,
  loopOhm,
  ohmPerM,
} from '../../src/power/wire.ts'
import { expectWithin } from '../kit/expect.ts'

const awg = (number: number) => ({ system: 'awg' as const, number })

describe('ASTM B258: diameters, and areas from them', () => {
  test.each([
    [-3, 11.684, 107.22],
    [4, 5.1894, 21.151],
    [6, 4.1154, 13.302],
    [8, 3.2636, 8.3656],
    [10, 2.5882, 5.2612],
    [12, 2.0525, 3.3088],
    [14, 1.6277, 2.0809],
    [16, 1.2908, 1.3087],
    [18, 1.0237, 0.823],
    [20, 0.8118, 0.5176],
    [36, 0.127, 0.012668],
  ])('AWG %d: %d mm, %d mm²', (n, d, area) => {
    expectWithin(awgDiameterMm(n), d, { abs: 6e-5 * Math.max(1, d), because: 'printed digits' })
    expectWithin(gaugeAreaMm2(awg(n)), area, { rel: 2e-4, because: 'printed digits' })
  })
  test('each gauge is 1.1229322 times the next', () => {
    expectWithin(awgDiameterMm(11) / awgDiameterMm(12), 1.1229322, { rel: 1e-7, because: 'as printed' })
  })
  test('in words', () => {
    expect([awg(-3), awg(0), awg(8), { system: 'mm2' as const, mm2: 0.75 }].map(gaugeWords)).toEqual([
      'AWG 4/0',
      'AWG 1/0',
      'AWG 8',
      '0.75 mm²',
    ])
  })
})

describe('annealed copper at 20 °C, Ω/km', () => {
  test.each([
    [4, 0.8152],
    [6, 1.2961],
    [8, 2.0609],
    [10, 3.277],
    [12, 5.2107],
    [14, 8.2853],
    [16, 13.174],
    [18, 20.948],
    [20, 33.308],
    [22, 52.962],
    [24, 84.213],
  ])('AWG %d: %d', (n, ohm) => expectWithin(1000 * ohmPerM(awg(n)), ohm, { rel: 1e-4, because: 'printed digits' }))
  test('10 AWG, 0.9989 Ω per 1000 ft (not the 0.8441 of an old list)', () => {
    expectWithin(304.8 * ohmPerM(awg(10)), 0.9989, { rel: 1e-4, because: 'printed digits' })
  })
  test('at 75 °C 1.21615 times as much', () => {
    expectWithin(ohmPerM(awg(10), 75) / ohmPerM(awg(10)), 1.21615, { rel: 1e-9, because: '1 + 0.00393 · 55' })
  })
  test('1 mm²: 17.241 Ω/km, within IEC 60228’s 18.1 for a solid conductor (memory)', () => {
    const ohm = 1000 * ohmPerM({ system: 'mm2', mm2: 1 })
    expectWithin(ohm, 17.241, { rel: 1e-9, because: 'the resistivity itself' })
    expect(ohm).toBeLessThan(18.1)
  })
})

test('30 A through 1.5 m of AWG 10 and back: 0.294933 V and 8.8480 W at 20 °C, 0.358683 V at 75 °C (derived)', () => {
  const run = { gauge: awg(10), lengthMm: 1500, connectors: 0 }
  expectWithin(30 * loopOhm(run, 0, 20), 0.294933, { rel: 1e-5, because: 'as printed' })
  expectWithin(900 * loopOhm(run, 0, 20), 8.848, { rel: 1e-4, because: 'as printed' })
  expectWithin(30 * loopOhm(run, 0, 75), 0.358683, { rel: 1e-5, because: 'as printed' })
  expectWithin(loopOhm({ ...run, connectors: 2 }, 1, 20) - loopOhm(run, 1, 20), 0.004, {
    rel: 1e-9,
    because: 'two pairs of contacts each way',
  })
})

describe('NEC 2023 table 310.16 (second-hand)', () => {
  test.each([
    [14, 15, 20, 25],
    [12, 20, 25, 30],
    [10, 30, 35, 40],
    [8, 40, 50, 55],
    [6, 55, 65, 75],
    [4, 70, 85, 95],
    [2, 95, 115, 130],
    [0, 125, 150, 170],
  ])('AWG %d: %d, %d, %d A', (n, ...amps) => {
    expect(([60, 75, 90] as const).map((c) => ampacityA(awg(n), c))).toEqual(amps)
  })
  test.each([
    [30, 0.5],
    [28, 0.8],
    [26, 1],
    [24, 2],
    [22, 3],
    [20, 5],
    [18, 7],
    [16, 10],
  ])('AWG %d: %f A whatever the insulation: NFPA 79, table 12.5.1 (memory)', (n, amps) => {
    expect(([60, 75, 90, 200] as const).map((c) => ampacityA(awg(n), c))).toEqual([amps, amps, amps, amps])
  })
  test('between two gauges the thinner one’s; beyond the tables by area', () => {
    expect(ampacityA(awg(9), 75)).toBe(35)
    expect(ampacityA({ system: 'mm2', mm2: 4 }, 75)).toBe(25)
    expect(ampacityA({ system: 'mm2', mm2: 0.5 }, 75)).toBe(3)
    expectWithin(ampacityA(awg(36), 75), (0.5 * 0.012668) / 0.05093, { rel: 2e-3, because: 'areas of AWG 36 and 30' })
    // Twice the area of AWG 1/0 (53.475 mm²).
    expectWithin(ampacityA({ system: 'mm2', mm2: 106.95 }, 75), 150 * 2 ** 0.6, { rel: 1e-3, because: 'area^0.6' })
  })
})

describe('bundles: NEC 310.15(C)(1) (second-hand)', () => {
  test.each([
    [2, 1],
    [3, 1],
    [4, 0.8],
    [6, 0.8],
    [7, 0.7],
    [9, 0.7],
    [10, 0.5],
    [20, 0.5],
    [21, 0.45],
    [30, 0.45],
    [31, 0.4],
    [40, 0.4],
    [41, 0.35],
    [400, 0.35],
  ])('%d conductors that carry current: × %f', (n, share) => {
    expect(bundleShare(n)).toBe(share)
    expect(ampacityA(awg(12), 75, 30, n)).toBe(25 * share)
  })
  test('12 AWG of 90 °C, 40 °C air, six together: 30 · √(50/60) · 0.8', () => {
    expectWithin(ampacityA(awg(12), 90, 40, 6), 30 * Math.sqrt(50 / 60) * 0.8, { rel: 1e-12, because: 'by hand' })
  })
  test('insulation of 200 °C: the column of 90 °C, with its own limit; nothing left where the air is as warm', () => {
    expect(ampacityA(awg(12), 200, 140)).toBe(30)
    expectWithin(ampacityA(awg(12), 200, 170), 30 * Math.sqrt(30 / 60), { rel: 1e-12, because: 'by hand' })
    expect([ampacityA(awg(12), 75, 75), ampacityA(awg(12), 75, 120)]).toEqual([0, 0])
  })
})

describe('fuses', () => {
  test('18 A that last need 22.5 A, the next usual one 25 A (NEC 210.20(A), second-hand)', () => {
    expect(fuseRange(18, 40)).toEqual({ leastA: 22.5, mostA: 40, fitsA: 25 })
  })
  test.each([
    [18, 7],
    [16, 10],
    [14, 15],
    [12, 20],
    [10, 30],
    [8, 55],
    [20, 5],
  ])('AWG %d: at most %d A, whatever 90 °C insulation may carry (NEC 240.4(D), second-hand)', (number, most) => {
    expect(fuseMostA({ system: 'awg', number }, ampacityA({ system: 'awg', number }, 90))).toBeLessThanOrEqual(most)
    if (number >= 8 && number <= 18) expect(fuseMostA({ system: 'awg', number }, 55)).toBe(most)
  })
  test.each([
    [35, 0.94],
    [40, 0.88],
    [45, 0.82],
    [50, 0.75],
  ])('air of %d °C: × %d in the 75 °C column (NEC 310.15(B), second-hand)', (airC, factor) => {
    const awg12 = { system: 'awg' as const, number: 12 }
    expectWithin(ampacityA(awg12, 75, airC) / ampacityA(awg12, 75), factor, {
      abs: 0.006,
      because: 'two digits printed',
    })
    expect(ampacityA(awg12, 75, 0)).toBe(25)
  })
  test('the smallest usual one that is enough, exactly enough counted; exactly what the wire bears as well', () => {
    expect(fuseRange(4, 5)).toEqual({ leastA: 5, mostA: 5, fitsA: 5 })
    expect(fuseRange(4.001, 7)).toMatchObject({ fitsA: null })
    expect(fuseRange(4.001, 7.5)).toMatchObject({ fitsA: 7.5 })
    expect(fuseRange(0, 5).fitsA).toBe(1)
    expect(fuseRange(1000, 5000)).toEqual({ leastA: 1250, mostA: 5000, fitsA: null })
  })
  test('between two gauges the thinner one’s limit; under AWG 18 what the wire bears; from AWG 8 on no other limit', () => {
    expect(fuseMostA(awg(9), 100)).toBe(30)
    expect(fuseMostA({ system: 'mm2', mm2: 1.5 }, 100)).toBe(10)
    expect(fuseMostA({ system: 'mm2', mm2: 0.75 }, 6)).toBe(6)
    expect([fuseMostA(awg(8), 50), fuseMostA(awg(10), 12)]).toEqual([50, 12])
  })
  test.each<[Parameters<typeof opensAtA>[0], number]>([
    [{ amps: 10 }, 13.5],
    [{ amps: 10, kind: 'blade' }, 13.5],
    [{ amps: 10, kind: 'UL 248' }, 13.5],
    [{ amps: 16, kind: 'gG' }, 25.6],
    [{ amps: 10, kind: 'gG' }, 19],
    [{ amps: 2, kind: 'gG' }, 4.2],
    [{ amps: 10, kind: 'miniature' }, 21],
  ])(
    '%o opens for sure from %f A on: ISO 8820-3, IEC 60127-2 (memory), IEC 60269 and UL 248-14 (second-hand)',
    (fuse, opensA) => {
      expectWithin(opensAtA(fuse), opensA, { abs: 1e-9, because: 'as printed' })
      expect(opensWords(fuse)).toContain(`from ${Number((opensA / fuse.amps).toPrecision(3))} times its rating on`)
      expect(opensWords(fuse).includes('names no kind')).toBe(fuse.kind === undefined)
    },
  )
  test('opening current at most 1.45 times what the wire bears: I_n ≤ I_z/1.31 under 16 A, I_z/1.1 above (IEC 60364-4-43, 433.1; second-hand)', () => {
    const thick = awg(8)
    expectWithin(fuseMostA(thick, 40, 'gG'), 40 / 1.1, { rel: 0.004, because: 'two digits printed' })
    expectWithin(fuseMostA(thick, 13, 'gG'), 13 / 1.31, { rel: 0.004, because: 'as before' })
    expectWithin(fuseMostA(thick, 4, 'gG'), (1.45 * 4) / 2.1, { abs: 1e-9, because: 'by hand' })
    expectWithin(fuseMostA(thick, 10, 'miniature'), 14.5 / 2.1, { abs: 1e-9, because: 'by hand' })
    // Where a band ends: 1.45 · 5.4 / 1.9 = 4.12 A stays, 1.45 · 5.3 / 1.9 = 4.04 A; below 4 A the next band's, never over its own end.
    expect([5.4, 5.2].map((a) => Number(fuseMostA(thick, a, 'gG').toFixed(2)))).toEqual([4.12, 3.59])
    expect([fuseMostA(thick, 40), fuseMostA(thick, 40, 'UL 248')]).toEqual([40, 40])
  })
  test('what breaks where nothing is named: 1000 A (ISO 8820-3), glass 35 A or ten times (IEC 60127-2, memory), gG 25 kA (memory)', () => {
    const of = (amps: number, kind?: 'gG' | 'miniature' | 'UL 248') =>
      usualBreaks({ amps, ...(kind ? { kind } : {}) }).amps
    expect([of(10), of(10, 'UL 248'), of(2, 'miniature'), of(10, 'miniature'), of(10, 'gG')]).toEqual([
      1000, 1000, 35, 100, 25_000,
    ])
  })
  test('insulation at a current: the rise of the table’s column, with the square of the current', () => {
    const at = (amps: number, over = {}) =>
      insulationAtC({ gauge: awg(8), insulationC: 75, airC: 30, bundled: 2, ...over }, amps)
    expectWithin(at(50), 75, { abs: 1e-9, because: 'the table' })
    expectWithin(at(54, { airC: 20 }), 20 + 45 * 1.08 ** 2, { abs: 1e-9, because: 'by hand' })
    expectWithin(at(ampacityA(awg(8), 75, 50), { airC: 50 }), 75, { abs: 1e-9, because: 'the correction’s own law' })
    expectWithin(at(40, { bundled: 4 }), 75, { abs: 1e-9, because: 'four fifths in a bundle of four' })
    // Silicone for 200 °C: the column of 90 °C, 60 K at 55 A.
    expectWithin(at(55, { insulationC: 200 }), 90, { abs: 1e-9, because: 'the table' })
    // NEC 310.16, 90 °C: 14 A for AWG 18, 18 A for AWG 16 (memory).
    for (const [number, amps] of [
      [18, 14],
      [16, 18],
    ] as const)
      expectWithin(at(amps, { gauge: awg(number), insulationC: 90 }) - 30, 60, {
        rel: 0.11,
        because: 'area^0.6, squared',
      })
  })
  test('none fits a wire too thin', () => expect(fuseRange(18, 24).fitsA).toBeNull())
  test('usual blade ratings up to 40 A (ISO 8820-3; memory)', () => {
    expect(FUSE_AMPS.filter((a) => a <= 40)).toEqual([1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40])
  })
})

describe('metric wire in inch units', () => {
  const area = (n: number) => gaugeAreaMm2({ system: 'awg', number: n })
  // Areas of ASTM B258, table 1, from memory: AWG 14 2.08 mm², AWG 12 3.31 mm², AWG 10 5.26 mm².
  test.each([
    [0.5, 20],
    [0.75, 18],
    [1.5, 14],
    [2.5, 12],
    [4, 10],
    [6, 8],
    [16, 4],
    [50, 0],
    [107, -3],
  ])('%d mm²: AWG %d, the thinnest sold that isn’t thinner', (mm2, n) => {
    expect(awgFor(mm2)).toBe(n)
    expect(area(n)).toBeGreaterThanOrEqual(0.98 * mm2)
  })
  test('none above 4/0; a gauge number stays; the mm² stand beside', () => {
    expect(awgFor(120)).toBeNull()
    expect(inSystem(gaugeInEither('1.5 mm²'), 'inch')).toBe('AWG 14 (1.5 mm²)')
    expect(inSystem(gaugeInEither('1.5 mm²'), 'metric')).toBe('1.5 mm²')
    expect(gaugeInEither('AWG 12')).toBe('AWG 12')
  })
})
