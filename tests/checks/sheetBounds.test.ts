// Rules of the beam sheet at their limits, from spots and figures by hand: silent up to the limit, found past it, with place and figures.
import { describe, expect, test } from 'vitest'
import { checkSheet } from '../../src/checks/check.ts'
import type { SheetParts } from '../../src/checks/parts.ts'
import {
  ahead as aheadInBoth,
  candela,
  celsius as celsiusInBoth,
  counted,
  kWm2,
  mm as mmInBoth,
  ofLimit,
  percent,
  plain,
  seconds,
  upThree,
} from '../../src/checks/words.ts'
import type { MaterialRisk } from '../../src/hazard/risks.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { SKIN } from '../../src/library/skin.ts'
import { middleOfSun } from '../../src/library/sunDisc.ts'
import type { HotSpot } from '../../src/run/figure.ts'
import { expectWithin } from '../kit/expect.ts'
import { metricWords } from '../kit/metricRules.ts'

const ahead = metricWords(aheadInBoth)
const celsius = metricWords(celsiusInBoth)
const mm = metricWords(mmInBoth)

const gannet = gannetHead()
const calm: SheetParts = {
  ...{ state: 'settled', figures: {}, hotSpots: {}, risks: [], patterned: false, variants: [] },
  sun: [{ kWm2: 0.5, se: 0, xMm: 0, yMm: 0, zMm: 0, discMm: 10, tiltDeg: 0, lands: 'face' }],
}
const spot = (kWm2: number, over: Partial<HotSpot> = {}): HotSpot => ({
  ...{ kWm2, se: 0, xMm: 7, yMm: -2, zMm: 400, discMm: 10, ...over },
})
const find = (rule: string, parts: Partial<SheetParts>, lamp: Lamp = gannet) =>
  checkSheet(lamp, { ...calm, ...parts }).filter((f) => f.rule === rule)
const one = (rule: string, parts: Partial<SheetParts>, lamp: Lamp = gannet) => find(rule, parts, lamp)[0]
const point = (on: string, zMm = 400) => ({ kind: 'point', xMm: 7, yMm: -2, zMm, on })
/** kW/m² that a black patch loses at so many °C in air of 20 °C: 0.9 σ (T⁴ − T₀⁴) + 5 W/m²K (T − T₀). */
const lost = (c: number) => (0.9 * 5.670374419e-8 * ((c + 273.15) ** 4 - 293.15 ** 4) + 5 * (c - 20)) / 1000

describe('the lens', () => {
  const hot = (kWm2: number, material = 'pmma') =>
    one('lens-hot', { hotSpots: { lens: spot(kWm2) } }, { ...gannet, lens: { ...gannet.lens!, material } } as Lamp)
  test('acrylic: from what holds dirt at 70 °C on, severe from 5.62 kW/m² on', () => {
    const softens = lost(70)
    expectWithin(softens, 0.585, { abs: 0.01, because: 'with pencil' })
    expect([softens - 1e-3, softens + 1e-3, 5.61, 5.62].map((q) => hot(q)?.severity)).toEqual([
      ...[undefined, 'warning', 'warning', 'severe'],
    ])
    expect(hot(5.62)!.title).toBe(
      'Up to 5.62 kW/m² on the lens, over a disc of 10 mm: enough to light it where it is dirty.',
    )
    expect(hot(2)!.place).toEqual(point('lens'))
    expect(hot(2)!.why).toMatch(/Acrylic \(PMMA\) should stay below 70 °C, which 0\.58\d kW\/m² hold/)
  })
  test('polycarbonate: 115 °C, and its own ignition; glass has no limit here, an ideal lens none either', () => {
    const softens = lost(115)
    expect([softens - 1e-3, softens + 1e-3].map((q) => hot(q, 'polycarbonate')?.severity)).toEqual([
      undefined,
      'warning',
    ])
    // 528 °C is held by 23.5 kW/m², under the 30 of tests.
    const lights = Math.floor(10 * lost(528)) / 10
    expect([lights - 0.1, lights].map((q) => hot(q, 'polycarbonate')!.severity)).toEqual(['warning', 'severe'])
    expect(hot(99, 'crown')).toBeUndefined()
    const ideal = { ...gannet, lens: { kind: 'ideal', zMm: 900, focalMm: 900, diameterMm: 500 } } as Lamp
    for (const lamp of [ideal, { ...gannet, lens: null }])
      expect(find('lens-hot', { hotSpots: { lens: spot(99) } }, lamp)).toEqual([])
  })
})

describe('wall and face', () => {
  const wall = (kWm2: number, reflectance: number) =>
    one('wall-hot', { hotSpots: { wall: spot(kWm2) } }, { ...gannet, tunnel: { ...gannet.tunnel!, reflectance } })
  test('a wall: from 4.3 kW/m² on it, or 1 kW/m² taken in; severe from 4.3 kW/m² taken in (Babrauskas 2001)', () => {
    expect([wall(4.29, 0.9), wall(4.3, 0.9)?.severity]).toEqual([undefined, 'warning'])
    expect([wall(3.99, 0.75), wall(4, 0.75)?.severity]).toEqual([undefined, 'warning'])
    expect([17.1, 17.2].map((q) => wall(q, 0.75)!.severity)).toEqual(['warning', 'severe'])
    expect(find('wall-hot', { hotSpots: { wall: spot(99) } }, { ...gannet, tunnel: null })).toEqual([])
  })
  test('the temperatures of the clean and of the stained wall: what 1 and 4 kW/m² hold', () => {
    const f = wall(4, 0.75)!
    const [, clean, stained] = /can get to some (\d+) °C, a stained one to (\d+) °C/.exec(f.title)!.map(Number)
    expect(f.title).toMatch(/^Up to 4 kW\/m² on the tunnel wall 400 mm above the face: a clean wall/)
    // Rounded up.
    expectWithin(lost(stained! - 0.5), 4, { rel: 0.02, because: 'half a kelvin' })
    expect(stained!).toBeGreaterThan(clean! + 50)
    expect(f.why).toMatch(/^The wall takes in 25 % where it is clean/)
    expect(f.place).toEqual(point('wall'))
  })
  test('the face: from 0.661 kW/m² on, severe from 6.53 kW/m² on; none without light', () => {
    const face = (q: number) => one('face-hot', { hotSpots: { face: spot(q) } })
    expect([0.66, 0.661, 6.52, 6.53].map((q) => face(q)?.severity)).toEqual([
      ...[undefined, 'warning', 'warning', 'severe'],
    ])
    expect(face(2)!.title).toBe('Up to 2 kW/m² comes back to the face, over a disc of 10 mm.')
    expect(face(2)!.place).toEqual(point('face'))
  })
})

describe('in front', () => {
  const risk = (over: Partial<MaterialRisk>): MaterialRisk => ({
    ...{ material: 'Paper', source: 'S1', criticalKWm2: 4, clearDistanceMm: 500, secondsAtWorst: 9 },
    ...over,
  })
  const skin = risk({ material: 'Bare skin', source: SKIN.source, clearDistanceMm: 2500, secondsAtWorst: 5 })
  const front = (kWm2: number, risks: MaterialRisk[], inFront = 300) =>
    one('front-hot', { hotSpots: { front: spot(kWm2, { zMm: frontZMm(gannet) + inFront }) }, risks })
  test('nothing that burns and too weak for pain: none; skin alone from 1 kW/m² on, severe from 5 kW/m² on', () => {
    const cold = risk({ secondsAtWorst: null })
    expect([front(0.99, [cold]), front(1, [cold])?.severity]).toEqual([undefined, 'warning'])
    expect([4.99, 5].map((q) => front(q, [cold, skin])!.severity)).toEqual(['warning', 'severe'])
    expect(front(0.5, [risk({})])!.severity).toBe('severe')
    expect(front(1, [cold])!.title).toBe(
      'Up to 1 kW/m² 300 mm in front of the lamp: bare skin hurts after 115 s. Keep the front clear.',
    )
    expect(front(1, [cold])!.why).toMatch(/^Skin: /)
    expect(front(1, [cold])!.cure).toContain('out of the first metres of the beam')
  })
  test('the soonest of what burns, the largest of the distances, skin’s among them', () => {
    const all = [
      risk({ clearDistanceMm: 900 }),
      risk({ material: 'Dry Grass', source: 'S2', secondsAtWorst: 4 }),
      risk({ material: 'Wood', source: 'S3', secondsAtWorst: null, clearDistanceMm: 9000 }),
      risk({ material: 'Cotton', source: 'S4', secondsAtWorst: 4 }),
    ]
    // Pain, Stoll and Greene, in the logarithms between 5.5 s at 8.4 and 2.9 s at 12.6 kW/m²: 4.179 s, shown rounded down.
    const f = front(10, [...all, skin])!
    expect(f.title).toBe(
      'Up to 10 kW/m² 300 mm in front of the lamp: dry grass can catch fire in 4 s, bare skin hurts after 4.17 s. Keep 2.5 m clear.',
    )
    expect(f.why).toMatch(/^It lies over the critical irradiance of 3 materials of the table; the soonest by: S2\. /)
    expect(f.place).toEqual(point('front', frontZMm(gannet) + 300))
    expect(front(10, all)!.title).toMatch(/Keep 900 mm clear\.$/)
    expect(front(10, [risk({})])!.why).toMatch(/^It lies over the critical irradiance of one material of the table/)
    // Too weak to hurt, and yet it lights something.
    expect(front(0.5, [risk({})])!.title).toMatch(/paper can catch fire in 9 s\. Keep 500 mm clear\.$/)
  })
  test('nearer than 5 mm: right at the front', () => {
    expect(front(2, [], 4.9)!.title).toMatch(/^Up to 2 kW\/m² right at the lamp’s front: /)
    expect(front(2, [], 5)!.title).toMatch(/^Up to 2 kW\/m² 5 mm in front of the lamp: /)
    expect(one('front-hot', { risks: [risk({})] })).toBeUndefined()
  })
})

describe('the sun', () => {
  const sun = (kWm2: number, over: Partial<SheetParts['sun'][number]> = {}) =>
    one('sun-inside', { sun: [{ ...spot(kWm2, { zMm: 0 }), tiltDeg: 3, lands: 'face', ...over }] })
  test('traced: from 2 kW/m² on, severe from where black plastic ignites, 6.53 kW/m²', () => {
    expect([1.99, 2, 6.52, 6.53].map((q) => sun(q)?.severity)).toEqual([...[undefined, 'warning', 'warning', 'severe']])
    expect(sun(2)!.title).toBe('Sun into the lens, 3° off its axis: up to 2 kW/m² on the face.')
    expect(sun(2, { zMm: 30, lands: 'air' })!.title).toMatch(/ in the air of the lamp, 30 mm above the face\.$/)
    expect(sun(2, { zMm: -30, lands: 'outside' })!.title).toMatch(/ beside the lamp\.$/)
    expect(sun(2)!.place).toEqual(point('inside', 0))
    // At least 1100 W/m² of a very clear day.
    expect(sun(2)!.why).toMatch(/^Direct sun of 1100 W\/m²/)
    expect(find('sun-inside', { sun: [] }, { ...gannet, lens: null, tunnel: null })).toEqual([])
    const intoTunnel = find('sun-inside', { sun: [] }, { ...gannet, lens: null })
    expect(intoTunnel.map((f) => f.severity)).toEqual(['severe'])
    expect(intoTunnel[0]!.title).toMatch(/^Sun into the tunnel: about /)
  })
  test('by geometry: a cone of the lens’s width to the focus, or the sun’s image; half angle 0.2666°', () => {
    const at = (focalMm: number, zMm: number, diameterMm: number) => {
      const lens = { kind: 'ideal', focalMm, zMm, diameterMm } as Lamp['lens']
      return one('sun-inside', { sun: [] }, { ...gannet, lens, tunnel: null })
    }
    const figure = (f: { title: string } | undefined) =>
      Number(/about ([\d ]+(\.\d+)?) kW/.exec(f!.title)![1]!.replace(' ', ''))
    const image = (f: number) => 2 * f * Math.tan((0.2666 * Math.PI) / 180)
    // In focus 500 mm above the face, 3000 mm away: 27.9 mm across, (100/27.9)² · 1.1, and the disc of 10 mm holds its bright middle.
    const air = at(3000, 3500, 100)
    expectWithin(figure(air), 1.1 * middleOfSun(10 / image(3000)) * (100 / image(3000)) ** 2, {
      rel: 0.01,
      because: 'three digits, rounded up',
    })
    expect(air!.title).toMatch(/ \(on the axis about .* in the air 500 mm above the face; not traced yet\)\.$/)
    expect(air!.place).toEqual({ kind: 'point', xMm: 0, yMm: 0, zMm: 500, on: 'inside' })
    // 1000 of 3000 mm: 9.3 mm of image + 300 mm · 2/3.
    const face = at(3000, 1000, 300)
    expectWithin(figure(face), 1.1 * (300 / (image(1000) + 200)) ** 2, {
      rel: 0.01,
      because: 'three digits, rounded up',
    })
    expect(face!.title).toContain(' on the face (by geometry')
    expect([face!.severity, air!.severity]).toEqual(['warning', 'severe'])
    expect(face!.place).toMatchObject({ zMm: 0 })
    // Image of 1.9 mm: the disc of 10 mm counts.
    expectWithin(figure(at(200, 300, 60)), 1.1 * 36, { rel: 0.01, because: 'three digits, rounded up' })
    // Étendue: sin² rim / sin² sun with a lens of twice its focal length; 4 · 1.1 without.
    const sine = Math.sin(Math.atan(0.5)) / Math.sin((0.2666 * Math.PI) / 180)
    expectWithin(
      figure(at(4000, 4500, 4000)),
      1.1 * middleOfSun(10 / image(4000)) * Math.min(sine ** 2, (4000 / image(4000)) ** 2),
      {
        rel: 0.01,
        because: 'three digits',
      },
    )
    // Spread over a third of the lens and more: under 2 kW/m².
    expect(at(3000, 500, 100)).toBeUndefined()
  })
  test('by geometry, from any side: no more than all the light that falls in, where walls or an image can gather it', () => {
    const lens = { kind: 'ideal', focalMm: 200, zMm: 150, diameterMm: 60 } as Lamp['lens']
    const most = (over: Partial<Lamp>) =>
      Number(/up to ([\d ]+(\.\d+)?) kW/.exec(one('sun-inside', { sun: [] }, { ...gannet, lens, ...over })!.title)![1])
    // (60/10)² · 1.1: the energy that falls on the lens.
    expectWithin(most({ tunnel: null }), 36 * 1.1, { rel: 0.01, because: 'three digits, rounded up' })
    const weak = { ...lens, focalMm: 5000 } as Lamp['lens']
    expect(one('sun-inside', { sun: [] }, { ...gannet, lens: weak, tunnel: null })).toBeUndefined()
    // Mirrored walls may gather it all the same; a white tunnel doesn't. Its mouth of 40 mm stands 10 mm behind the lens of 60.
    const tunnel = { ...gannet.tunnel!, sides: 0, inMm: 40, outMm: 40, zInMm: 5, zOutMm: 140 }
    const shadow = Math.hypot(Math.PI * 900, 10 * 60) / (Math.PI * 25)
    expectWithin(most({ lens: weak, tunnel }), 1.1 * shadow, { rel: 0.01, because: 'three digits, rounded up' })
    const white = { ...tunnel, specularShare: 0 }
    expect(one('sun-inside', { sun: [] }, { ...gannet, lens: weak, tunnel: white })).toBeUndefined()
  })
})

describe('figures', () => {
  const figure = (value: number, se = 0) => ({ axialIntensityCd: { value, se } })
  const gain = (
    withLens: ReturnType<typeof figure>,
    without: ReturnType<typeof figure>,
    name = 'without lens',
    lamp = gannet,
  ) => one('lens-does-not-help', { figures: withLens, variants: [{ name, figures: without }] }, lamp)
  test('a lens: from × 1.3 on it helps; darker only beyond twice the standard error', () => {
    expect(gain(figure(1.3e6), figure(1e6))).toBeUndefined()
    expect(gain(figure(1.29e6), figure(1e6))!.title).toBe(
      'The lens hardly helps: 1.29 Mcd on the axis with it, 1 Mcd without (× 1.29).',
    )
    // 2 · √(3² + 4²) = 10.
    expect(gain(figure(1000, 30), figure(1100, 40))!.title).toMatch(/^The lens hardly helps/)
    expect(gain(figure(1000, 30), figure(1101, 40))!.title).toBe(
      'The lens makes the axis darker: 1000 cd with it, 1100 cd without.',
    )
    expect(gain(figure(1), figure(1))).toMatchObject({ severity: 'warning', place: { kind: 'part', part: 'lens' } })
    expect(gain(figure(1), figure(0))).toBeUndefined()
    expect(gain(figure(1), figure(1), 'another')).toBeUndefined()
    expect(gain(figure(1), figure(1), undefined, { ...gannet, lens: null })).toBeUndefined()
    const variants = [{ name: 'without lens', figures: figure(1) }]
    expect(one('lens-does-not-help', { variants })).toBeUndefined()
    // Light leaves, and none of it along the axis.
    expect(one('lens-does-not-help', { figures: { fluxOutLm: { value: 10, se: 0 } }, variants })!.title).toBe(
      'No ray has gone along the axis with the lens: 1 cd without it.',
    )
  })
  const bare = { ...gannet, lens: null }
  test('a pattern: plain from 25 % on, once that is sure (2.131 standard errors, 16 batches)', () => {
    const shows = (value: number, se: number, lamp = gannet) =>
      one('beam-shows-array', { figures: { patternContrast: { value, se } } }, lamp as Lamp)
    expect([shows(0.25, 0), shows(0.2501, 0)?.severity]).toEqual([undefined, 'note'])
    expect([shows(0.27132, 0.01), shows(0.2713, 0.01)].map((f) => f !== undefined)).toEqual([true, false])
    expect(shows(0.3, 0)!.title).toMatch(/varies by ± 30 % \(pattern contrast\)/)
    expect(shows(0.3, 0)).toMatchObject({ place: { part: 'lens' }, cure: expect.stringContaining('move the lens') })
    expect(shows(0.3, 0, bare as Lamp)).toMatchObject({
      place: { part: 'emitters' },
      cure: expect.stringContaining('collimators'),
    })
    const is = (lamp: Lamp, figures = {}) => one('patterned-beam', { patterned: true, figures }, lamp)!
    expect(is(gannet)).toMatchObject({ severity: 'warning', place: { kind: 'part', part: 'lens' } })
    expect(is(gannet).cure).toMatch(/^Move the lens/)
    expect(is(gannet).title).toMatch(/rises again further out\.$/)
    expect(is(gannet, { patternContrast: { value: 0.4, se: 0 } }).title).toMatch(/further out \(contrast 40 %\)\.$/)
    expect(is(bare)).toMatchObject({ place: { part: 'emitters' }, cure: expect.stringMatching(/^Pack/) })
    expect(find('beam-shows-array', { patterned: true, figures: { patternContrast: { value: 1, se: 0 } } })).toEqual([])
  })
  test('forward and backward: 5.5 standard errors for one, 5.5 n^(1/15) for the worst of n; which figure it is', () => {
    const of = (...pairs: NonNullable<SheetParts['forwardBackward']>) =>
      one('ends-disagree', { forwardBackward: pairs })
    const peak = { figure: 'peakIntensityCd', apart: 6 }
    expect([of({ ...peak, apart: 5.5 }), of({ ...peak, apart: 5.51 })?.severity]).toEqual([undefined, 'severe'])
    // 5.5 · 3^(1/15) = 5.918.
    const three = (apart: number) => of({ ...peak, apart: 1 }, { ...peak, apart }, { ...peak, apart: 2 })
    expect([three(5.91), three(5.92)].map((f) => f !== undefined)).toEqual([false, true])
    expect(three(5.92)!.why).toContain('more than 5.9 standard errors apart')
    const title = (figure: string, thetaDeg?: number) =>
      of({ figure, apart: 6, ...(thetaDeg === undefined ? {} : { thetaDeg }) })!.title
    expect(title('peakIntensityCd')).toBe(
      'Traced forward and backward, the peak intensity differs by 6.0 standard errors.',
    )
    expect(title('axialIntensityCd')).toContain(', the axial intensity differs')
    expect(title('targetCentreLx')).toContain('the illuminance at the target’s centre')
    expect(title('profileCd', 1.234)).toContain('the intensity 1.2° off the axis')
    expect(title('profileCd')).toContain('the intensity 0° off the axis')
    expect(title('other')).toContain(', a figure differs')
    // Of two alike the first.
    expect(of({ ...peak }, { ...peak, figure: 'axialIntensityCd' })!.title).toContain('the peak')
    expect(of(peak)!.place).toEqual({ kind: 'part', part: 'emitters' })
    expect(of()).toBeUndefined()
  })
  test('unfinished: how well the axis is known, where it is', () => {
    const rough = (figures = {}) => one('unfinished', { state: 'settling', figures })!
    // 2.131 · 1 of 100.
    expect(rough(figure(100, 1)).title).toBe('The figures are still settling: axial intensity is known to ± 2.13 %.')
    expect(rough(figure(0, 1)).title).toMatch(/isn’t known yet\.$/)
    expect(rough().title).toMatch(/isn’t known yet\.$/)
    expect(rough()).toMatchObject({ severity: 'note', place: { kind: 'part', part: 'target' } })
    expect(find('unfinished', {})).toEqual([])
  })
  test('out of reach: said once the trace has ended, with what it would take', () => {
    const reached = { wanted: 0.01, share: 0.028, of: 'axis', rays: 1.568e9 } as const
    const found = one('out-of-reach', { state: 'settled', reached })!
    expect(found.title).toBe('The trace ended with the axial intensity known to ± 2.8 %, not ± 1 %.')
    expect(found.why).toContain('about 1\u202f600 million would do')
    expect(one('out-of-reach', { state: 'settled', reached: { ...reached, of: 'peak' } })!.title).toContain(
      '± 2.8 % of the beam’s brightest ring',
    )
    for (const parts of [
      { state: 'settling', reached } as const,
      { state: 'settled', reached: null } as const,
      { state: 'settled', reached: { ...reached, share: 0.01 } } as const,
      { state: 'settled', reached: { ...reached, wanted: 0 } } as const,
    ])
      expect(find('out-of-reach', parts)).toEqual([])
  })
})

test('numbers in words, at the edges of each unit', () => {
  expect([999.4, 999.6, 1000.4, -1500].map(mm)).toEqual(['999 mm', '1000 mm', '1000 mm', '-1500 mm'])
  expect([999.4, 999.5, 12_345].map(ahead)).toEqual(['999 mm', '1 m', '12.3 m'])
  expect([999_000, 1e6, 2.345e6].map(candela)).toEqual(['999 000 cd', '1 Mcd', '2.35 Mcd'])
  expect([0.99, 1, 119, 120].map(seconds)).toEqual(['less than a second', '1 s', '119 s', '2 min'])
  expect([upThree(0), upThree(-1.234), upThree(0.0012341), upThree(12_345)]).toEqual([
    '0',
    '-1.23',
    '0.00124',
    '12 400',
  ])
  expect([plain(9999), plain(10_000), plain(-12_345)]).toEqual(['10 000', '10 000', '-12 300'])
  expect([counted(1, 'run'), counted(2, 'run'), counted(0, 'foot', 'feet')]).toEqual(['1 run', '2 runs', '0 feet'])
  expect([celsius(20), celsius(20.01), percent(0.1234), kWm2(0)]).toEqual(['20 °C', '21 °C', '12.3 %', '0 kW/m²'])
  expect([0.98, 0.981, 1.5].map(ofLimit)).toEqual(['98 %', '99 %', '99 %'])
})
