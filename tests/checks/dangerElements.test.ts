// Elements besides the lens over a hot face: the lens's limits, by their names.
import { expect, test } from 'vitest'
import { checkDanger } from '../../src/checks/danger.ts'
import type { DangerParts } from '../../src/checks/dangerParts.ts'
import { readParts } from '../../src/hazard/onParts.ts'
import { elementSpan } from '../../src/lamp/body.ts'
import type { Element, Lamp } from '../../src/lamp/schema.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { traceHere } from '../kit/traceHere.ts'

const pane: Element = {
  ...{ kind: 'cover', name: 'Pane', zMm: 20, diameterMm: 80, aperture: 'round', thicknessMm: 2, material: 'pmma' },
}
const lamp: Lamp = { ...stileLamp(), elements: [pane] }

function found(settlesC: number) {
  const d = fakeDanger(stileLamp())
  const element = {
    name: 'Pane',
    material: 'Acrylic (PMMA)',
    settlesC,
    faceC: 120,
    keepBelowC: 70,
    deflectionC: 95,
    cracksFromK: null,
  }
  const parts: DangerParts['parts'] = { ...d.parts, elements: [{ ...element, source: 'A source.' }] }
  return checkDanger(lamp, { ...d, parts }).find((f) => f.rule === 'element-softens')
}

test('softens over 70 °C, sags over 95 °C', () => {
  expect([70, 70.1, 95.1].map((c) => found(c)?.severity)).toEqual([undefined, 'warning', 'severe'])
  expect(found(70.1)!.title).toBe(
    'Over the face “Pane” can get to 71 °C, over the 70 °C that acrylic (PMMA) should stay below.',
  )
})

test('warm by the face alone: nearer is warmer, a glass is listed without a limit', () => {
  // The light on the lens is the one that is mapped.
  const lens = { kind: 'ideal', zMm: 10, focalMm: 100, diameterMm: 60 } as const
  const run = traceHere(stileLamp(), { rays: 1024 })
  const of = (...elements: Element[]) =>
    readParts(run, { ...lamp, lens, elements }, new Float64Array(7), { faceC: 120, from: 'stated' }).elements
  const far = { ...pane, name: 'Far', zMm: 200 }
  const [near, away] = of(pane, far)
  expect(near!.settlesC).toBeGreaterThan(away!.settlesC + 20)
  expect(near!.settlesC).toBeLessThan(120)
  expect(away!.settlesC).toBeGreaterThan(lamp.reading.ambientC)
  expect(near).toMatchObject({ name: 'Pane', material: 'Acrylic (PMMA)', faceC: 120, keepBelowC: 70, deflectionC: 95 })
  expect(of({ ...pane, material: 'float' })[0]).toMatchObject({ name: 'Pane', keepBelowC: null, cracksFromK: 40 })
  // Tilted, its nearest corner counts: 40 mm sin 20° nearer.
  const tilted = { ...far, tiltXDeg: 20 }
  expect(elementSpan(tilted)[0]).toBeCloseTo(200 - 40 * Math.sin(Math.PI / 9), 9)
  expect(of(tilted)[0]!.settlesC).toBeGreaterThan(away!.settlesC)
})
