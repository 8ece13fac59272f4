// Films and covers: a film is of no known plastic and is judged as the one that gives way first; two of one name are distinguished.
import { describe, expect, test } from 'vitest'
import { readPartLedger } from '../../src/beam/partLedger.ts'
import { checkDesign, checkSheet } from '../../src/checks/check.ts'
import { checkDanger } from '../../src/checks/danger.ts'
import type { Finding } from '../../src/checks/finding.ts'
import { readParts } from '../../src/hazard/onParts.ts'
import { elementsOf } from '../../src/lamp/assembly.ts'
import type { Element, Lamp } from '../../src/lamp/schema.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { lostKWm2 } from '../../src/library/heatBalance.ts'
import { LENS_MATERIALS } from '../../src/library/materials.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { lampOf } from '../kit/singleBoards.ts'
import { traceHere } from '../kit/traceHere.ts'

const film: Element = {
  ...{ kind: 'diffuser', name: 'Film', zMm: 20, diameterMm: 80, aperture: 'round' },
  ...{ spreadDeg: 10, transmittance: 0.8, reflectance: 0.1 },
}
const pane: Element = {
  ...{ kind: 'cover', name: 'Pane', zMm: 60, diameterMm: 80, aperture: 'round', thicknessMm: 2, material: 'pmma' },
}
const withElements = (...elements: Element[]): Lamp => ({ ...stileLamp(), lens: null, elements })
const hot = { faceC: 120, from: 'stated' }
const warmed = (lamp: Lamp, faceC = hot.faceC) =>
  readParts(traceHere(lamp, { rays: 4096 }), lamp, new Float64Array(7), { ...hot, faceC })
const dangers = (lamp: Lamp, faceC?: number): Finding[] =>
  checkDanger(lamp, { ...fakeDanger(lamp), parts: warmed(lamp, faceC) })
const LEAST = Math.min(...Object.values(LENS_MATERIALS).flatMap((m) => (m.keepBelowC === null ? [] : [m.keepBelowC])))

describe('a film', () => {
  const sheet = { state: 'settled', figures: {}, sun: [], risks: [], patterned: false, variants: [] } as const
  const lit = (kWm2: number) => {
    const spot = { kWm2, se: 0, xMm: 1, yMm: 2, zMm: 20, discMm: 10 }
    return checkSheet(lampOf([[0, 0]], { elements: [film] }), { ...sheet, hotSpots: { lens: spot } }).find(
      (f) => f.rule === 'lens-hot',
    )
  }
  test('in a hot spot: warned of from what holds the weakest plastic at its limit, severe where the easiest lit ignites', () => {
    const softens = lostKWm2(LEAST, { ambientC: lampOf([[0, 0]]).reading.ambientC })
    expect(lit(0.99 * softens)).toBeUndefined()
    expect(lit(1.01 * softens)).toMatchObject({ severity: 'warning' })
    expect(lit(12)!.title).toMatch(/^Up to 12 kW\/m² on “Film”, .* enough to light it where it is dirty\.$/)
    expect(lit(12)!.severity).toBe('severe')
  })
  test('first over a hot face: its temperature, with a tenth of the light taken in, and it gives way', () => {
    const { lens } = warmed(withElements(film))
    expect(lens).toMatchObject({ name: 'Film', keepBelowC: LEAST, deflectionC: LEAST })
    expect(lens!.absorbedShare).toBeCloseTo(0.1, 12)
    const found = dangers(withElements(film)).filter((f) => f.rule === 'lens-softens')
    expect(found.map((f) => f.severity)).toEqual(['severe'])
    expect(found[0]!.title).toContain('“Film”')
  })
  test('behind another: by its own light over the face; alight it burns, of an unknown thickness', () => {
    const found = dangers(withElements({ ...pane, zMm: 20 }, { ...film, zMm: 30 }))
    const softens = found.filter((f) => f.rule === 'element-softens')
    expect(softens.map((f) => f.severity)).toEqual(['severe'])
    expect(softens[0]!.place).toMatchObject({ kind: 'point', on: 'lens', of: 'Film' })
    expect(found.filter((f) => f.rule === 'lens-drips').map((f) => f.title)[1]).toBe(
      'Once alight, “Film” burns on and drips: plastic film of a thickness that isn’t stated.',
    )
  })
  test('says that its material isn’t known', () => {
    const [f] = checkDesign(withElements(film)).filter((x) => x.rule === 'lens-material-unknown')
    expect(f!.title).toMatch(/^What “Film” is made of isn’t in the document/)
    expect(f!.why).toContain(`${LEAST} °C is taken`)
  })
})

describe('what stands over hot boards', () => {
  test('boards that are raised bring their heat nearer', () => {
    const raised = (heightMm: number): Lamp => {
      const lamp = withElements({ ...film, zMm: 60 }, { ...pane, zMm: 70 })
      return { ...lamp, boards: lamp.boards.map((b) => ({ ...b, heightMm })) }
    }
    const [flat, near] = [warmed(raised(0)), warmed(raised(30))]
    expect(near.lens!.cleanC).toBeGreaterThan(flat.lens!.cleanC + 0.5)
    expect(near.elements[0]!.cleanC).toBeGreaterThan(flat.elements[0]!.cleanC + 0.01)
  })
  test('a float glass cracks from 40 K over the air on, whether light from the face meets it first or not', () => {
    const glass = { ...pane, zMm: 30, material: 'float' } as Element
    const cracks = (faceC: number) =>
      dangers(withElements(film, glass), faceC).filter((f) => f.rule === 'lens-cracks' && f.severity === 'severe')
    expect(cracks(60)).toEqual([])
    expect(cracks(250)[0]).toMatchObject({ severity: 'severe', place: { of: 'Pane' } })
  })
})

describe('two of one name', () => {
  const twice = withElements(pane, { ...pane, zMm: 80 }, { ...film, name: ' pane', zMm: 100 }, { ...film, zMm: 120 })
  test('each is called by its place, one of its own name by that alone', () => {
    expect(elementsOf(twice).map((e) => e.where)).toEqual([' at 60 mm', ' at 80 mm', ' at 100 mm', ''])
    const beside = withElements({ ...film, decentreXMm: -50 }, { ...film, decentreXMm: 50 })
    expect(elementsOf(beside).map((e) => e.where)).toEqual([
      ' at 20 mm, moved by -50, 0 mm',
      ' at 20 mm, moved by 50, 0 mm',
    ])
    const lens = { kind: 'ideal', zMm: 10, focalMm: 100, diameterMm: 60 } as const
    const called = elementsOf({ ...withElements({ ...film, name: 'Lens' }), lens })
    expect(called.map((e) => [e.isLens, e.where])).toEqual([
      [true, ''],
      [false, ' at 20 mm'],
    ])
  })
  test('both are judged, and every finding says which', () => {
    const found = dangers(withElements(film, { ...pane, zMm: 30 }, { ...pane, zMm: 40 }), 200)
    for (const rule of ['element-softens', 'lens-drips']) {
      const titles = found.filter((f) => f.rule === rule).map((f) => f.title)
      for (const where of ['“Pane at 30 mm”', '“Pane at 40 mm”'])
        expect(titles.filter((t) => t.includes(where)).length, `${rule} ${where}`).toBe(1)
    }
    const losses = checkDesign(twice).filter((f) => f.rule === 'cover-loss')
    expect(losses.map((f) => f.title.slice(0, 15))).toEqual(['“Pane at 60 mm”', '“Pane at 80 mm”'])
    expect(losses.map((f) => f.place)).toEqual(
      [60, 80].map((z) => ({ kind: 'part', part: 'lens', of: `Pane at ${z} mm` })),
    )
  })
  test('the ledger has a line of each', () => {
    const lamp = withElements(pane, { ...pane, zMm: 80 })
    const names = readPartLedger(traceHere(lamp, { rays: 8192 }), lamp).map((r) => r.name)
    expect(names).toContain('Pane at 60 mm: absorbed')
    expect(names).toContain('Pane at 80 mm: absorbed')
    expect(new Set(names).size).toBe(names.length)
  })
})
