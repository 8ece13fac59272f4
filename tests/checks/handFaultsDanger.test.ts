// Dangers of light and sun at what small faults put in by hand got past: upper ends where two places are compared, warm air, glass, what lies on the
// lens itself, the sun by geometry. Readings by hand.
import { describe, expect, test } from 'vitest'
import { checkSheet } from '../../src/checks/check.ts'
import { checkDanger } from '../../src/checks/danger.ts'
import type { DangerParts } from '../../src/checks/dangerParts.ts'
import type { SheetParts } from '../../src/checks/parts.ts'
import type { ThingReading } from '../../src/hazard/inTheWay.ts'
import { tunnelGain } from '../../src/hazard/tunnelSun.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import type { HotSpot } from '../../src/run/figure.ts'
import { expectWithin } from '../kit/expect.ts'

const gannet = gannetHead()
const warm: Lamp = { ...gannet, reading: { ...gannet.reading, ambientC: 60 } }
const glassOf = (lamp: Lamp): Lamp => ({ ...lamp, lens: { ...lamp.lens!, material: 'float' } }) as Lamp
const spot = (kWm2: number, se = 0): HotSpot => ({ kWm2, se, xMm: 7, yMm: -2, zMm: 250, discMm: 10 })
const nothing: DangerParts = {
  ...{ clear: [], things: [], sunMap: [], sunPlaces: [], sunDay: null, bareLens: null, eye: null },
  beside: { leakedW: 0, worst: null, curve: [] },
  parts: { lens: null, elements: [], wall: null, boards: null, optics: [], absent: {} },
}
const danger = (rule: string, over: Partial<DangerParts>, lamp = gannet) =>
  checkDanger(lamp, { ...nothing, ...over }).find((f) => f.rule === rule)
const calm: SheetParts = {
  ...{ state: 'settled', figures: {}, hotSpots: {}, risks: [], patterned: false, variants: [], sun: [] },
}
const sheet = (rule: string, over: Partial<SheetParts>, lamp = gannet) =>
  checkSheet(lamp, { ...calm, ...over }).find((f) => f.rule === rule)

describe('the upper end of ± decides', () => {
  test('of two places in the sun the one that may be hotter: 4.5 + 2.131 · 1 kW/m², over 5 ± 0 and over plastic’s 6.53', () => {
    const point = (kWm2: number, se: number, board: string) => ({
      ...{ ...spot(kWm2, se), tiltDeg: 10, azimuthDeg: 0, lands: 'board' as const, board, flat: null },
    })
    const f = danger('sun-from-a-side', { sunMap: [point(5, 0, 'B1'), point(4.5, 1, 'B2')] })!
    expect(f.title).toMatch(/^The sun 10° off the axis throws up to 6\.64 kW\/m² on board B2\./)
    expect(f.severity).toBe('severe')
  })
  test('beside the lamp paper is lit from 3.94 kW/m² on: 3.9 + 2.131 · 0.02', () => {
    const place = (se: number) => ({
      ...{ ...spot(3.9, se), dx: 0, dy: 0, dz: -1, spreadRad: 0.1, tiltDeg: 5, azimuthDeg: 0 },
      ...{ zone: 'outside' as const, byDisc: [] },
    })
    const severity = (se: number) => danger('sun-beside', { sunPlaces: [place(se)] })?.severity
    expect([severity(0.01), severity(0.02)]).toEqual(['warning', 'severe'])
  })
})

test('what lies on the lens itself and is close to harm isn’t silent', () => {
  const lid: ThingReading = {
    ...{
      name: 'A lid',
      material: 'black-plastic',
      distanceMm: 0,
      absorbs: 1,
      kWm2: 0.5,
      settlesC: 60,
      harm: 'softens',
    },
    ...{ limitKWm2: 0.661, shareOfLimit: 0.76, secondsToHarm: null, secondsToIgnite: null, secondsTo90C: null },
    lensBehindC: null,
  }
  expect(danger('near-limit', { things: [lid] })?.title).toMatch(/^Close to harm: 76 % of the limit for a lid/)
})

describe('a lens of float glass cracks 40 K over its rim, which is as cold as the air', () => {
  const lens = (cleanC: number, dirtyC = cleanC): Partial<DangerParts> => ({
    parts: {
      ...nothing.parts,
      lens: {
        ...{ name: 'Lens', kWm2: 3, spot: spot(3), cleanC, dirtyC, material: 'Float glass', absorbedShare: 0.02 },
        ...{ absorbedW: 1, faceC: 20, keepBelowC: null, deflectionC: null, source: 'A source.' },
      },
    },
  })
  test('clean: in air of 20 °C from 60 °C on, in air of 60 °C from 100 °C on', () => {
    const severity = (c: number, lamp: Lamp) => danger('lens-cracks', lens(c), glassOf(lamp))?.severity
    expect([60, 60.1].map((c) => severity(c, gannet))).toEqual([undefined, 'severe'])
    expect([100, 100.1].map((c) => severity(c, warm))).toEqual([undefined, 'severe'])
  })
  // 0.9 σ (333.15⁴ − 293.15⁴) + 5 · 40 = 251.4 + 200 W/m².
  test('dirty: from 0.452 kW/m² on', () => {
    const found = (q: number) => sheet('lens-hot', { hotSpots: { lens: spot(q) } }, glassOf(gannet))?.severity
    expect([0.451, 0.453].map(found)).toEqual([undefined, 'warning'])
  })
})

describe('acrylic in air of 60 °C', () => {
  // 0.9 σ (343.15⁴ − 333.15⁴) + 5 · 10 = 78.9 + 50 W/m².
  test('dirt on it gets to 70 °C from 0.129 kW/m² on', () => {
    const found = (q: number) => sheet('lens-hot', { hotSpots: { lens: spot(q) } }, warm)?.severity
    expect([0.128, 0.13].map(found)).toEqual([undefined, 'warning'])
  })
  test('and is alight from 5.17 kW/m² on, so it drips', () => {
    const drips = (kWm2: number) =>
      danger(
        'lens-drips',
        {
          parts: {
            ...nothing.parts,
            lens: {
              ...{ name: 'Lens', kWm2, spot: spot(kWm2), cleanC: 62, dirtyC: 300, material: 'Acrylic (PMMA)' },
              ...{ absorbedShare: 0.02, absorbedW: 1, faceC: 60, keepBelowC: 70, deflectionC: 95, source: 'A source.' },
            },
          },
        },
        warm,
      )?.severity
    expect([5.16, 5.18].map(drips)).toEqual(['note', 'warning'])
  })
})

describe('the sun by geometry, before it is traced', () => {
  const lensed = (over: object): Lamp =>
    ({ ...gannet, tunnel: null, lens: { kind: 'ideal', zMm: 1000, diameterMm: 300, ...over } }) as Lamp
  const figure = (title: string) => Number(/about ([\d.]+) kW/.exec(title)![1])
  test('off its axis a lens of up to three heights of focal length gathers all that falls in: 1.1 kW/m² · (300/10)²', () => {
    const near = sheet('sun-inside', {}, lensed({ focalMm: 2900 }))!
    // On the axis some 2.3 kW/m² alone.
    expect(near.title).toMatch(
      /^Sun into the lens: up to 990 kW\/m² inside, by geometry and from any side \(on the axis about 2\.3/,
    )
    expect(near.severity).toBe('severe')
    const far = sheet('sun-inside', {}, lensed({ focalMm: 3000 }))!
    expect(far.title).toMatch(/^Sun into the lens: about 2\.2\d kW\/m² on the face/)
    expect(far.severity).toBe('warning')
  })
  test('of a rectangle the longer side counts: 600 mm to the focus, cut after a third', () => {
    const f = sheet('sun-inside', {}, lensed({ focalMm: 3000, aperture: 'rectangle', heightMm: 600 }))!
    const image = 2 * 1000 * Math.tan((0.2666 * Math.PI) / 180)
    expectWithin(figure(f.title), 1.1 * (600 / (image + 400)) ** 2, { rel: 0.01, because: 'three digits, rounded up' })
  })
  test('an open tunnel: the sun’s middle is a quarter brighter than its mean (Eddington)', () => {
    const lamp = { ...gannet, lens: null } as Lamp
    const f = sheet('sun-inside', {}, lamp)!
    const { gain } = tunnelGain(lamp.tunnel!, lamp.reading.hotDiscMm)
    expectWithin(figure(f.title), 1.25 * 1.1 * gain, { rel: 0.01, because: 'three digits, rounded up' })
  })
})
