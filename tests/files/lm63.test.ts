// Reading photometric files. The worked file is row 1.96 of our check values: 1000 cos⁴ γ cd at every 10°, derived.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Photometry, readLm63 } from '../../src/files/lm63.ts'
import { lumensOf } from '../../src/files/lm63Lumens.ts'
import { linear } from '../../src/num/interpolate.ts'
import { gaussLegendre, integrate } from '../../src/num/quadrature.ts'
import { expectWithin } from '../kit/expect.ts'
import { COS4_CD, COS4_LINES, fileOf, withLines } from '../kit/lm63File.ts'

const RAD = Math.PI / 180

function read(text: string): Photometry {
  const out = readLm63(text)
  if (!out.ok) throw new Error(out.why)
  return out.photometry
}
describe('the worked file (row 1.96)', () => {
  const p = read(withLines({}))
  test('is read as it stands', () => {
    expect(p).toMatchObject({ edition: 2019, lamps: 1, lampLumens: null, symmetry: 'axial', inputW: 0 })
    expect(p.verticalDeg).toEqual([0, 10, 20, 30, 40, 50, 60, 70, 80, 90])
    expect(p.horizontalDeg).toEqual([0])
    expect(p.candela).toEqual([COS4_CD])
    expect(p.keywords[0]).toEqual({ name: 'TEST', text: 'invented' })
    expect(p.notes).toEqual([])
  })

  test('lumens: the zonal sum is 1282.02, 2.02 % over the exact 1256.637 of cos⁴', () => {
    const { lumens, zonalLumens, lowerLumens, upperLumens } = lumensOf(p)
    expectWithin((1000 * 2 * Math.PI) / 5, 1256.637, { abs: 5e-4, because: 'printed digits' })
    expectWithin(zonalLumens, 1282.02, { abs: 5e-3, because: 'printed digits' })
    // Linear in angle between the file's own angles, by a quadrature that knows nothing of the closed form.
    const rule = gaussLegendre(8)
    let other = 0
    for (let t = 0; t < 90; t += 10) {
      const at = (deg: number) => linear(p.verticalDeg, COS4_CD, deg) * Math.sin(deg * RAD)
      other += 2 * Math.PI * RAD * integrate(at, t, t + 10, rule)
    }
    expectWithin(lumens, other, { rel: 1e-12, because: 'both are exact' })
    // 1.0 % over: intensity falls where sine rises, so that the edge mean gives too much. (The row's "near 1282" is the edge sum's.)
    expectWithin(lumens, 1269.285, { abs: 5e-4, because: 'printed digits, derived' })
    expect([lowerLumens, upperLumens]).toEqual([lumens, 0])
  })

  test('finer angles bring both sums to the exact lumens', () => {
    const deg = Array.from({ length: 901 }, (_, i) => i / 10)
    const fine = read(fileOf({ vertical: deg, candela: [deg.map((t) => 1000 * Math.cos(t * RAD) ** 4)] }))
    const { lumens, zonalLumens } = lumensOf(fine)
    expectWithin(lumens, 1256.637, { rel: 2e-6, because: 'a tenth of a degree' })
    expectWithin(zonalLumens, 1256.637, { rel: 4e-6, because: 'a tenth of a degree' })
  })
})

describe('lumens', () => {
  test('an even sphere of 1 cd is 4π lm, half on either side, with and without an angle at 90°', () => {
    for (const vertical of [
      [0, 90, 180],
      [0, 60, 130, 180],
      [0, 0.001, 179, 180],
    ]) {
      const p = read(fileOf({ vertical, candela: [vertical.map(() => 1)] }))
      const { lumens, zonalLumens, lowerLumens, upperLumens } = lumensOf(p)
      for (const value of [lumens, zonalLumens, 2 * lowerLumens, 2 * upperLumens])
        expectWithin(value, 4 * Math.PI, { ulps: 16 })
    }
  })

  test('planes count for the gaps on either side, also where they are uneven', () => {
    const p = read(
      fileOf({
        vertical: [0, 90],
        horizontal: [0, 30, 200],
        candela: [
          [1, 1],
          [4, 4],
          [2, 2],
        ],
      }),
    )
    // Trapezia over 30°, 170° and 160° of the turn.
    const mean = (30 * 2.5 + 170 * 3 + 160 * 1.5) / 360
    expectWithin(lumensOf(p).lumens, 2 * Math.PI * mean, { rel: 1e-14, because: 'rounding' })
  })
})

describe('editions, keywords, tilt', () => {
  test.each([
    ['IES:LM-63-2019', 2019],
    ['IESNA:LM-63-2002', 2002],
    ['IESNA:LM-63-1995', 1995],
    ['IESNA91', 1991],
    ['A report of 1986, of no particular form', 1986],
    ['\ufeffIESNA:LM-63-2002', 2002],
  ])('%s', (first, edition) => {
    expect(read(withLines({ 1: first })).edition).toBe(edition)
  })

  test('without a first line it is a file of 1986', () => {
    expect(read(COS4_LINES.slice(5).join('\n')).edition).toBe(1986)
  })

  test('the second factor counts up to 1995; later it is no factor', () => {
    const numbers = { 8: '0.9 0.5 20' }
    expect(read(withLines({ ...numbers, 1: 'IESNA:LM-63-1995' })).candela[0]![0]).toBeCloseTo(450, 9)
    const later = read(withLines({ ...numbers, 1: 'IESNA:LM-63-2002' }))
    expect(later.candela[0]![0]).toBeCloseTo(900, 9)
    expect(later.inputW).toBe(20)
    expect(later.notes).toEqual(['Intensities are multiplied by 0.9 (multiplier and ballast factors).'])
    expect(read(withLines({ 8: '1 1.10000 0' })).candela[0]![0]).toBe(1000)
  })

  test('multiplier, lumens per lamp, feet and metres', () => {
    const p = read(withLines({ 7: '2 850 2.5 10 1 1 1 -0.5 -0.5 0' }))
    expect(p).toMatchObject({ lamps: 2, lampLumens: 850, openingMm: { width: -152.4, length: -152.4, height: 0 } })
    expect(p.candela[0]![0]).toBe(2500)
    expect(read(withLines({ 7: '1 -1 1 10 1 1 2 .04 .03 0' })).openingMm).toEqual({ width: 40, length: 30, height: 0 })
  })

  test('required keywords that are missing and lines that are none are noted, [MORE] goes on', () => {
    const p = read(withLines({ 2: '[LAMP] one', 3: '[MORE] and two', 4: 'free words' }))
    expect(p.keywords).toEqual([
      { name: 'LAMP', text: 'one and two' },
      { name: 'MANUFAC', text: 'nobody' },
    ])
    expect(p.notes).toEqual([
      'The 2019 edition asks for [TEST], [TESTLAB], [ISSUEDATE]; not in the file.',
      'One line before TILT that is no keyword was skipped.',
    ])
  })

  test('TILT=INCLUDE is skipped with a note', () => {
    const p = read(withLines({ 6: 'TILT=INCLUDE\r\n1\r\n3\r\n0 15 30\r\n1 .98 .95' }))
    expect(p.candela).toEqual([COS4_CD])
    expect(p.notes).toEqual([
      'Its tilt table (3 angles) was skipped: intensities are those of the lamp as it was measured.',
    ])
  })

  test('commas, tabs, blank lines, numbers broken over lines, an old end mark', () => {
    const p = read(
      withLines({ 7: '1,-1,1.0\t10, 1 1\r\n\r\n2 0 0', 8: '0\r1 1.00001\n0', 11: `${COS4_CD.join(',\n')}\x1a` }),
    )
    expect(p.candela).toEqual([COS4_CD])
  })
})

describe('symmetries are written out', () => {
  const planes = (horizontal: number[], first = 'IES:LM-63-2019') =>
    read(fileOf({ first, vertical: [0, 90], horizontal, candela: horizontal.map((h) => [h + 1, 0]) }))
  const rows = (p: Photometry) => p.horizontalDeg.map((h, i) => [h, p.candela[i]![0]! - 1])

  test('0 to 90: four quadrants', () => {
    const p = planes([0, 45, 90])
    expect(p.symmetry).toBe('quadrant')
    expect(rows(p)).toEqual([
      [0, 0],
      [45, 45],
      [90, 90],
      [135, 45],
      [180, 0],
      [225, 45],
      [270, 90],
      [315, 45],
    ])
  })
  test('0 to 180: about that plane', () => {
    const p = planes([0, 60, 180])
    expect(p.symmetry).toBe('plane 0-180')
    expect(rows(p)).toEqual([
      [0, 0],
      [60, 60],
      [180, 180],
      [300, 60],
    ])
  })
  test('90 to 270 (1995): about that plane', () => {
    const p = planes([90, 120, 180, 270], 'IESNA:LM-63-1995')
    expect(p.symmetry).toBe('plane 90-270')
    expect(rows(p)).toEqual([
      [0, 180],
      [60, 120],
      [90, 90],
      [120, 120],
      [180, 180],
      [270, 270],
    ])
    expect(p.notes).toEqual([])
    expect(planes([90, 180, 270]).notes).toContain(
      'Horizontal angles from 90 to 270 were allowed in 1995 only; read as that edition says.',
    )
  })
  test('0 to 360: 360 is 0 again; a difference is noted', () => {
    const p = planes([0, 120, 240, 360])
    expect(p.symmetry).toBe('none')
    expect(rows(p)).toEqual([
      [0, 0],
      [120, 120],
      [240, 240],
    ])
    expect(p.notes.at(-1)).toBe('Its planes at 0 and 360 are the same direction and differ; that at 0 is used.')
    expect(rows(planes([0, 190]))).toEqual([
      [0, 0],
      [190, 190],
    ])
  })
  test('lumens of a symmetric file and of the same file in full agree', () => {
    const v = [0, 30, 90, 150, 180]
    const row = (h: number) => v.map((t) => 100 + t + 40 * Math.cos(2 * h * RAD))
    const quarter = [0, 20, 45, 70, 90]
    const full = [...new Set(quarter.flatMap((h) => [h, 180 - h, 180 + h, 360 - h]))].sort((a, b) => a - b)
    const lumens = (horizontal: number[]) =>
      lumensOf(read(fileOf({ vertical: v, horizontal, candela: horizontal.map(row) }))).lumens
    const half = full.filter((h) => h <= 180)
    expectWithin(lumens(quarter), lumens(full), { rel: 1e-13, because: 'rounding' })
    expectWithin(lumens(half), lumens(full), { rel: 1e-13, because: 'rounding' })
  })
})

test('garbage never throws: it is read or refused in one sentence', () => {
  const isRefusedOrSound = (text: string) => {
    const out = readLm63(text)
    if (!out.ok) {
      expect(out.why.length).toBeLessThan(400)
      return
    }
    const { horizontalDeg: h, verticalDeg: v, candela } = out.photometry
    expect(candela.length).toBe(h.length)
    expect(candela.every((row) => row.length === v.length && row.every((c) => Number.isFinite(c) && c >= 0))).toBe(true)
    expect(lumensOf(out.photometry).lumens).toBeGreaterThanOrEqual(0)
  }
  const words = fc.constantFrom(
    ...COS4_LINES.join(' ').split(' '),
    '\n',
    'TILT=NONE',
    'NaN',
    '1e308',
    '-0',
    '0x10',
    '\r',
    ',',
  )
  fc.assert(fc.property(fc.string(), isRefusedOrSound), { seed: 1 })
  fc.assert(
    fc.property(fc.array(words, { maxLength: 80 }), (w) => isRefusedOrSound(w.join(' '))),
    { seed: 2 },
  )
  fc.assert(
    fc.property(fc.nat(400), fc.nat(30), fc.string({ maxLength: 4 }), (at, gone, put) => {
      const text = withLines({})
      isRefusedOrSound(text.slice(0, at) + put + text.slice(at + gone))
    }),
    { seed: 3, numRuns: 1000 },
  )
})
