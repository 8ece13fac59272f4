// Elements besides the lens over a hot face: the lens's limits, by their names.
import { expect, test } from 'vitest'
import { checkSheet } from '../../src/checks/check.ts'
import { checkDanger } from '../../src/checks/danger.ts'
import type { DangerParts } from '../../src/checks/dangerParts.ts'
import { readParts } from '../../src/hazard/onParts.ts'
import { elementSpan } from '../../src/lamp/body.ts'
import type { Element, Lamp } from '../../src/lamp/schema.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { oneEmitter, traceHere } from '../kit/traceHere.ts'

const pane: Element = {
  ...{ kind: 'cover', name: 'Pane', zMm: 20, diameterMm: 80, aperture: 'round', thicknessMm: 2, material: 'pmma' },
}
const lamp: Lamp = { ...stileLamp(), elements: [pane] }

const spot = { kWm2: 1.2, se: 0, xMm: 3, yMm: 4, zMm: 20, discMm: 10 }
const heat = {
  ...{ index: 0, name: 'Pane', material: 'Acrylic (PMMA)', kWm2: 1.2, spot, absorbedShare: 0.05, absorbedW: 1 },
  ...{ faceC: 120, keepBelowC: 70, deflectionC: 95, source: 'A source.', dirtyC: 300, cleanC: 60 },
}
// The lens comes behind the pane, so that the pane is another element.
const behind: Lamp = { ...lamp, lens: { kind: 'ideal', zMm: 30, focalMm: 100, diameterMm: 60 } }

function found(rule: string, over: Partial<typeof heat> = {}, of: Lamp = behind) {
  const d = fakeDanger(stileLamp())
  const parts: DangerParts['parts'] = { ...d.parts, lens: null, elements: [{ ...heat, ...over }] }
  return checkDanger(of, { ...d, parts }).find((f) => f.rule === rule)
}

test('softens over 70 °C, sags over 95 °C', () => {
  const at = (cleanC: number) => found('element-softens', { cleanC })
  expect([70, 70.1, 95.1].map((c) => at(c)?.severity)).toEqual([undefined, 'warning', 'severe'])
  expect(at(70.1)!.title).toBe(
    'Even clean, “Pane” can get to 71 °C, over the 70 °C that acrylic (PMMA) should stay below.',
  )
  expect(at(71)!.why).toContain('5.0 % of up to 1.2 kW/m² on both its faces')
  expect(at(71)!.place).toMatchObject({ kind: 'point', xMm: 3, on: 'lens', of: 'Pane' })
})

test('what drips, cracks and burns a finger on the lens does so on another element', () => {
  expect(found('lens-drips')).toMatchObject({ severity: 'note' })
  expect(found('lens-drips', { kWm2: 50 })).toMatchObject({ severity: 'warning' })
  expect(found('lens-hot-to-touch', { dirtyC: 40, cleanC: 30 })).toBeUndefined()
  expect(found('lens-hot-to-touch', { cleanC: 110 })?.title).toContain('The clean “Pane” gets to 110 °C')
  const glass: Lamp = { ...behind, elements: [{ ...pane, material: 'float' } as Element] }
  const at = (dirtyC: number) => found('lens-cracks', { dirtyC, cleanC: 25 }, glass)
  expect([60, 70].map((c) => at(c)?.severity)).toEqual([undefined, 'warning'])
})

test('what lies on a pane before the lens heats the pane, judged by its own limit', () => {
  const d = fakeDanger(gannetHead())
  const before: Lamp = { ...gannetHead(), elements: [{ ...pane, zMm: 5000 }] }
  const parts = { ...d.parts, lens: null, elements: [{ ...heat, index: 1 }] }
  const at = (lensBehindC: number) =>
    checkDanger(before, { ...d, parts, things: d.things.map((t) => ({ ...t, lensBehindC })) }).find(
      (f) => f.rule === 'cover-traps-heat',
    )
  expect([70, 71, 96].map((c) => at(c)?.severity)).toEqual([undefined, 'warning', 'severe'])
  expect(at(71)!.title).toContain('heats “Pane” under it to 71 °C. It should stay below 70 °C.')
  // A pane that bears it doesn't silence the lens.
  const glass = { ...d, parts: { ...parts, lens: d.parts.lens, elements: [{ ...heat, index: 1, keepBelowC: null }] } }
  const hot = d.things.map((t) => ({ ...t, lensBehindC: 90 }))
  expect(checkDanger(before, { ...glass, things: hot }).find((f) => f.rule === 'cover-traps-heat')!.title).toContain(
    'heats the lens under it to 90 °C. The lens should stay below 70 °C.',
  )
})

test('the hot spot of each other element has the lens’s limits; a film of unknown plastic those of the weakest', () => {
  const sheet = { state: 'settled', figures: {}, sun: [], risks: [], patterned: false, variants: [] } as const
  const film: Element = {
    ...{ kind: 'diffuser', name: 'Film', zMm: 25, diameterMm: 80, aperture: 'round' },
    ...{ spreadDeg: 5, transmittance: 0.8, reflectance: 0.1 },
  }
  const two = { ...behind, elements: [pane, film] }
  const hot = (pane_: number, film_: number) =>
    checkSheet(two, {
      ...sheet,
      hotSpots: { lens: { ...spot, kWm2: 1e6 } },
      elements: [pane_, film_].map((kWm2) => ({ spot: { ...spot, kWm2 } })),
    }).filter((f) => f.rule === 'lens-hot')
  // An ideal lens is of no material. 70 °C: 0.62 kW/m² in air of 20 °C, 50 °C: 0.34.
  expect(hot(0.3, 0.3)).toEqual([])
  expect(hot(0.8, 0.3).map((f) => f.title.includes('“Pane”'))).toEqual([true])
  const [f] = hot(0.3, 0.5)
  expect(f!.title).toContain('on “Film”')
  expect(f!.place).toMatchObject({ of: 'Film' })
  expect(hot(100, 100).map((f) => f.severity)).toEqual(['severe', 'severe'])
  const dark = checkSheet(two, { ...sheet, hotSpots: {}, elements: [{ spot: null }, { spot: null }] })
  expect(dark.filter((f) => f.rule === 'lens-hot')).toEqual([])
})

test('without light the face alone warms it: nearer is warmer', () => {
  const run = traceHere(stileLamp(), { rays: 1024 })
  const of = (...elements: Element[]) =>
    readParts(run, { ...behind, elements }, new Float64Array(7), { faceC: 120, from: 'stated' }).elements
  const far = { ...pane, name: 'Far', zMm: 200 }
  const [near, away] = of(pane, far)
  expect(near!.cleanC).toBeGreaterThan(away!.cleanC + 20)
  expect(near!.cleanC).toBeLessThan(120)
  expect(away!.cleanC).toBeGreaterThan(lamp.reading.ambientC)
  expect(near).toMatchObject({ name: 'Pane', material: 'Acrylic (PMMA)', faceC: 120, keepBelowC: 70, deflectionC: 95 })
  expect(near).toMatchObject({ spot: null, index: 0 })
  expect(of({ ...pane, material: 'float' })[0]).toMatchObject({ name: 'Pane', keepBelowC: null })
  // Tilted, its nearest corner counts: 40 mm sin 20° nearer.
  const tilted = { ...far, tiltXDeg: 20 }
  expect(elementSpan(tilted)[0]).toBeCloseTo(200 - 40 * Math.sin(Math.PI / 9), 9)
  expect(of(tilted)[0]!.cleanC).toBeGreaterThan(away!.cleanC)
})

test('traced: a pane where a lens gathers the light is hotter than the lens, and what it takes in warms it', () => {
  // Point source 100 mm below a lens of 50 mm focal length: its image 100 mm above, on the pane.
  const focus: Lamp = {
    ...oneEmitter({ source: { shape: 'disc', diameterMm: 1 } }),
    lens: { kind: 'ideal', zMm: 100, focalMm: 50, diameterMm: 60 },
    elements: [{ ...pane, zMm: 200 } as Element, { ...pane, name: 'Out of it', zMm: 300, diameterMm: 200 } as Element],
  }
  const run = traceHere(focus, { rays: 1 << 14 })
  const heats = readParts(run, focus, new Float64Array(1), { faceC: 20, from: 'stated' })
  expect(heats.lens).toBeNull()
  const [at, past] = heats.elements
  expect(at!.spot).toMatchObject({ zMm: 200 })
  expect(Math.hypot(at!.spot!.xMm, at!.spot!.yMm)).toBeLessThan(5)
  // All that comes through is within the disc of 10 mm: a share sin² of 0.0826 of the lens’s 30 mm at 104 mm.
  const through = run.emittedW * (30 ** 2 / (30 ** 2 + 100 ** 2))
  const disc = (Math.PI / 4) * 10 ** 2
  expectWithin(at!.spot!.kWm2, (1.04 * 1000 * through) / disc, {
    abs: (0.05 * 1000 * through) / disc,
    because: 'the pane’s back throws a twenty-fifth of it once more through its front, and rays are few',
  })
  expect(past!.spot!.kWm2).toBeLessThan(at!.spot!.kWm2 / 20)
  expect(at!.cleanC).toBeGreaterThan(past!.cleanC)
})
