// Étendue, currents, the lens at the mouth, and what several rules of the document share: at their limits, by hand.
import { describe, expect, test } from 'vitest'
import { checkDesign } from '../../src/checks/check.ts'
import { brightnessRatio } from '../../src/checks/design/etendue.ts'
import { arrayDiameterMm, emissionPoints, fwhmDeg, sourceAreaMm2 } from '../../src/checks/optics.ts'
import type { Lamp, SolidLens } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lensFocalMm } from '../../src/library/lensMaterial.ts'
import { expectWithin } from '../kit/expect.ts'
import { bare, type Collimator, emitter, lampOf, narrow } from '../kit/singleBoards.ts'

const gannet = gannetHead()
const find = (rule: string, lamp: Lamp) => checkDesign(lamp).filter((f) => f.rule === rule)
const one = (rule: string, lamp: Lamp) => find(rule, lamp)[0]

describe('étendue', () => {
  const of = (over: Partial<Collimator>, rest: Partial<Lamp> = {}) =>
    find(
      'etendue',
      lampOf(
        [
          [0, 0],
          [20, 0],
        ],
        { optic: 'narrow', opticTypes: [bare, narrow(over)], ...rest },
      ),
    )
  test('sin θ = d/D: 2 mm behind 19.13 mm can give 12° (1/sin 6° = 9.567), behind 19.14 mm too, 19.13 mm only in part', () => {
    expect(of({ exitDiameterMm: 19.14 })).toEqual([])
    const [f, more] = of({ exitDiameterMm: 19.1 })
    expect([f!.severity, more]).toEqual(['warning', undefined])
    expect(f!.title).toBe('“Narrow” gives 12° on “E” for part of the light only: all of it needs 12.1°.')
    expect(f!.cure).toContain('a collimator of at least 20 mm')
    expect(f!.why).toMatch(/^An emitter of 3\.14 mm² behind an exit of 19\.1 mm/)
    expect(f!.place).toEqual({ kind: 'emitter', boardIndex: 0, siteIndex: 0 })
  })
  test('brighter than the emitter: severe, with the ratio; each pair of emitter and optic once', () => {
    // Gaussian of 12°: π w²/(4 ln 2) = 0.0497 sr, a little less off the small angle; 0.88 π 3.14/(78.5 · 0.0496) = 2.23.
    const [f] = of({})
    expect(f!.severity).toBe('severe')
    expect(f!.title).toBe('“Narrow” can’t give 12° on “E”: the smallest possible width is 23.1°.')
    expect(f!.why).toMatch(/^Its exit would have to be 2\.2\d times as bright as the emitter itself/)
    const { boards } = lampOf([
      [0, 0],
      [20, 0],
      [40, 0],
    ])
    const two = [narrow(), narrow({ id: 'other', name: 'Other' })]
    const each = of(
      {},
      { opticTypes: two, boards: boards.map((b, i) => ({ ...b, optic: i < 2 ? 'narrow' : 'other' })) },
    )
    expect(each.map((x) => x.place)).toEqual(
      [0, 2].map((boardIndex) => ({ kind: 'emitter', boardIndex, siteIndex: 0 })),
    )
  })
  test('an exit no larger than the emitter: 180°', () => {
    expect(of({ exitDiameterMm: 2 })[0]!.title).toMatch(/smallest possible width is 180°\.$/)
  })
  test('∫ I/I₀ dΩ: cosⁿ of 60° full width 2π/(n + 1), n = ln ½/ln cos 30°; a Gaussian of 2° π w²/(4 ln 2)', () => {
    const source = { ...emitter, source: { shape: 'disc' as const, diameterMm: 10 } }
    const n = Math.log(0.5) / Math.log(Math.cos(Math.PI / 6))
    const cosine = narrow({ shape: 'cosine', fwhmDeg: 60, efficiency: 0.5 })
    expectWithin(brightnessRatio(source, cosine), (0.5 * (n + 1)) / 2, { rel: 1e-9, because: 'closed form' })
    const w = (2 * Math.PI) / 180
    const gaussian = narrow({ shape: 'gaussian', fwhmDeg: 2, efficiency: 1 })
    expectWithin(brightnessRatio(source, gaussian), (4 * Math.LN2) / (w * w), { rel: 1e-3, because: 'small angles' })
    // An exit of twice the diameter is a quarter as bright.
    const twice = { ...gaussian, exitDiameterMm: 20 }
    expectWithin(brightnessRatio(source, gaussian) / brightnessRatio(source, twice), 4, { rel: 1e-9, because: 'areas' })
    // A Gaussian of 120° is cut off at 90°: 2π ∫ sin t exp(−4 ln 2 t²/w²) dt, by midpoints.
    const wide = narrow({ shape: 'gaussian', fwhmDeg: 120, efficiency: 1 })
    const steps = 2000
    const dt = Math.PI / 2 / steps
    const sum = Array.from({ length: steps }, (_, k) => (k + 0.5) * dt).reduce(
      (s, t) => s + 2 * Math.PI * Math.sin(t) * Math.exp(-4 * Math.LN2 * (t / ((120 * Math.PI) / 180)) ** 2) * dt,
      0,
    )
    expectWithin(brightnessRatio(source, wide), Math.PI / sum, { rel: 1e-5, because: 'midpoints' })
  })
})

describe('current and mouth', () => {
  const at = (...currents: number[]) => {
    const lamp = lampOf(currents.map((_, i) => [20 * i, 0]))
    return find('over-current', { ...lamp, boards: lamp.boards.map((b, i) => ({ ...b, currentA: currents[i]! })) })
  }
  test('at the emitter’s 4 A nothing; over it a finding for each current, at its first board', () => {
    expect(at(4)).toEqual([])
    const found = at(4, 4.1, 5, 4.1)
    expect(found.map((f) => [f.title, f.place])).toEqual([
      ['2 boards at 4.1 A: the emitter “E” bears 4 A at most.', { kind: 'board', boardIndex: 1 }],
      ['1 board at 5 A: the emitter “E” bears 4 A at most.', { kind: 'board', boardIndex: 2 }],
    ])
    expect(found[0]!.severity).toBe('severe')
  })
  test('a lens as wide as the mouth misses nothing', () => {
    const lens = (diameterMm: number) => ({ ...gannet, lens: { ...gannet.lens!, diameterMm } })
    expect(find('lens-smaller-than-mouth', lens(560))).toEqual([])
    // 1 − (280/560)².
    expect(one('lens-smaller-than-mouth', lens(280))).toMatchObject({
      severity: 'warning',
      title:
        'The lens of 280 mm is smaller than the tunnel’s mouth of 560 mm: up to 75 % of the mouth lies outside it.',
      place: { kind: 'part', part: 'lens' },
    })
    expect(find('lens-smaller-than-mouth', { ...lens(280), tunnel: null })).toEqual([])
  })
})

describe('what several rules share', () => {
  test('focal length of a solid lens: R/(n − 1), crown n = 1.5168 (open data), 500 mm → 967.5 mm', () => {
    const solid = { kind: 'solid', radiusMm: 500, material: 'crown' } as SolidLens
    expectWithin(lensFocalMm(solid), 500 / 0.5168, { rel: 1e-4, because: 'printed digits of the index' })
    expect(lensFocalMm(gannet.lens!)).toBe(1100)
  })
  test('areas, widths, the circle about the array; the list is made once', () => {
    expectWithin(sourceAreaMm2(emitter), Math.PI, { ulps: 2 })
    expect(sourceAreaMm2({ ...emitter, source: { shape: 'rectangle', widthMm: 2, heightMm: 3 } })).toBe(6)
    expect(fwhmDeg(emitter, narrow())).toBe(12)
    expect(fwhmDeg(emitter, bare)).toBe(120)
    expect(fwhmDeg({ ...emitter, profile: { kind: 'table' } as unknown as typeof emitter.profile }, bare)).toBeNull()
    const lamp = lampOf([
      [3, 4],
      [-30, 40],
      [0, 0],
    ])
    // √(30² + 40²) + 1.
    expectWithin(arrayDiameterMm(emissionPoints(lamp)), 102, { ulps: 2 })
    expect(emissionPoints(lamp)).toBe(emissionPoints(lamp))
    expect(emissionPoints(lamp)[1]).toMatchObject({ xMm: -30, yMm: 40, zMm: 2.5, radiusMm: 1, boardIndex: 1 })
  })
})
