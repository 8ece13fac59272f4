// Findings of the document on pieces off their axis, covers, and several lenses: by hand.
import { describe, expect, test } from 'vitest'
import { checkDesign, checkSheet } from '../../src/checks/check.ts'
import type { OwnMaterial } from '../../src/lamp/material.ts'
import type { Element, Lamp, Tunnel } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lensSystem } from '../../src/library/lensSystem.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampOf } from '../kit/singleBoards.ts'

const find = (rule: string, lamp: Lamp) => checkDesign(lamp).filter((f) => f.rule === rule)
const own: OwnMaterial = {
  ...{ name: 'N', family: 'glass', densityKgM3: 2500, keepBelowC: null, deflectionC: null, ignitionC: null },
  ...{ index: { by: 'table', rows: [{ wavelengthNm: 550, index: 1.5 }] }, absorption: { by: 'value', perMm: 0 } },
}
type Ideal = Extract<Element, { kind: 'ideal' }>
const cover = (over: Partial<Extract<Element, { kind: 'cover' }>> = {}): Element => ({
  ...{ kind: 'cover', name: 'Pane', zMm: 120, diameterMm: 300, aperture: 'round', thicknessMm: 3, material: 'pmma' },
  ...over,
})
const ideal = (zMm: number, focalMm: number, over: Partial<Ideal> = {}): Ideal => ({
  ...{ kind: 'ideal', name: `L${zMm}`, zMm, focalMm, diameterMm: 100, ...over },
})

describe('a cover', () => {
  test('of index 1.5 sends back 2 · 0.04/1.04 = 7.69 % (Fresnel)', () => {
    const [f] = find('cover-loss', lampOf([[0, 0]], { elements: [cover({ material: 'own', ownMaterial: own })] }))
    expect(f).toMatchObject({ severity: 'note' })
    expect(f!.title).toBe(
      '“Pane” sends 7.69 % of the light that meets it square back into the lamp, more of light aslant.',
    )
    expect(f!.why).toMatch(/^Two plain surfaces of an index of 1\.5:/)
  })
  test('with coatings: by the stated share, 2 · 0.05/1.05 = 9.52 %; under 2 % no word', () => {
    const coated = (surfaceReflectance: number) =>
      find('cover-loss', lampOf([[0, 0]], { elements: [cover({ surfaceReflectance })] }))
    expect(coated(0.05)[0]!.title).toContain('9.52 %')
    expect(coated(0.005)).toEqual([])
  })
  test('whose own material isn’t known says so by its name', () => {
    const [f] = find(
      'lens-material-unknown',
      lampOf([[0, 0]], { elements: [cover({ material: 'own', ownMaterial: own })] }),
    )
    expect(f!.title).toBe('Of “N”, which “Pane” is made of, it isn’t known which temperature it bears.')
  })
})

describe('the optical centre', () => {
  // The bare emitter starts 2.5 mm high: 1000 mm to the lens.
  const piece = (over: Partial<Ideal>) =>
    find('optical-centre-beside', lampOf([[0, 0]], { lens: ideal(1002.5, 900, { aperture: 'square', ...over }) }))
  test('60 mm beside a square of 100 mm, 110 mm off: atan(110/1000) = 6.28° aside', () => {
    const [f] = piece({ centreXMm: 110 })
    expect(f).toMatchObject({ severity: 'warning' })
    expect(f!.title).toBe(
      'The optical centre of the lens lies 60 mm beside the piece: the beam leaves some 6.28° aside.',
    )
  })
  test('in the piece it is no finding; moved back over the emitters, a note', () => {
    expect(piece({ centreXMm: 50 })).toEqual([])
    const [f] = piece({ centreXMm: 110, decentreXMm: -110 })
    expect(f).toMatchObject({ severity: 'note' })
    expect(f!.title).toMatch(/so the beam stays straight\.$/)
    // Turned by 180° its centre lies on the other side.
    expect(piece({ centreXMm: 110, decentreXMm: 110, turnDeg: 180 })[0]!.severity).toBe('note')
  })
})

describe('the mouth and what stands over it', () => {
  const tunnel: Tunnel = {
    ...gannetHead().tunnel!,
    ...{ sides: 4, inMm: 400, inHeightMm: 200, outMm: 400, outHeightMm: 200, zInMm: 0, zOutMm: 100 },
  }
  const over = (piece: object) =>
    find(
      'lens-smaller-than-mouth',
      lampOf([[0, 0]], { tunnel, elements: [cover({ aperture: 'rectangle', ...piece })] }),
    )[0]?.title
  test('a rectangle of 400 × 200 mm: by the share of its area that lies beside the piece', () => {
    expect(over({ diameterMm: 400, heightMm: 200 })).toBeUndefined()
    expect(over({ diameterMm: 300, heightMm: 200 })).toMatch(
      /^“Pane” of 300 mm × 200 mm doesn’t cover the tunnel’s mouth of 400 mm × 200 mm: 25 % of the mouth/,
    )
    expect(over({ diameterMm: 400, heightMm: 200, decentreXMm: 100 })).toMatch(/: 25 % of the mouth/)
    // Turned by 90° it covers 200 of 400 mm; the round one only its circle, π/8 of the mouth.
    expect(over({ diameterMm: 400, heightMm: 200, turnDeg: 90 })).toMatch(/: 50 % of the mouth/)
    expect(over({ aperture: 'round', diameterMm: 200 })).toMatch(/: 60\.\d % of the mouth/)
    // Tilted by 60° it looks half as high.
    expect(over({ diameterMm: 400, heightMm: 200, tiltXDeg: 60, zMm: 300 })).toMatch(/: 50 % of the mouth/)
  })
})

describe('a cover without a lens', () => {
  const sheet = { state: 'settled', figures: {}, sun: [], risks: [], patterned: false, variants: [] } as const
  const lensSpot = { kWm2: 12, se: 0, xMm: 1, yMm: 2, zMm: 120, discMm: 10 }
  test('is judged by the light on it as a lens is, by its name: acrylic lights at 5.62 kW/m²', () => {
    const lamp = lampOf([[0, 0]], { elements: [cover()] })
    const [f] = checkSheet(lamp, { ...sheet, hotSpots: { lens: lensSpot } }).filter((x) => x.rule === 'lens-hot')
    expect(f).toMatchObject({ severity: 'severe', place: { kind: 'point', on: 'lens' } })
    expect(f!.title).toMatch(/^Up to 12 kW\/m² on “Pane”, over a disc of 10 mm: enough to light it/)
  })
  test('gathers no sun; a lens among the elements does, and of several the worst counts', () => {
    const sun = (...elements: Element[]) =>
      checkSheet(lampOf([[0, 0]], { elements }), { ...sheet, hotSpots: {} }).find((f) => f.rule === 'sun-inside')?.title
    expect(sun(cover())).toBeUndefined()
    const one = sun(ideal(100, 100))
    expect(one).toMatch(/^Sun into the lens: up to .*on the axis about .* on the face/)
    // The bound, of all light that falls in, grows with a second lens; what the axis gets doesn't.
    const onAxis = (title?: string) => /on the axis about [^;]*/.exec(title ?? '')?.[0]
    expect(onAxis(sun(ideal(100, 100), ideal(150, 1000)))).toBe(onAxis(one))
    expect(sun(ideal(100, 1000), ideal(150, 50, { diameterMm: 300 }))).toMatch(/in the air 100 mm above the face/)
  })
})

describe('several lenses', () => {
  const two = (apartMm: number) => lampOf([[0, 0]], { elements: [ideal(200, 100), ideal(200 + apartMm, 100)] })
  test('1/f = 1/f₁ + 1/f₂ − d/f₁f₂; focus f (1 − d/f₂) behind the first', () => {
    const system = lensSystem(two(50))!
    expectWithin(system.focalMm, 200 / 3, { rel: 1e-12, because: 'rounding' })
    expectWithin(system.focusZMm, 200 - 100 / 3, { rel: 1e-12, because: 'rounding' })
    expect(find('lens-off-focus', two(50))[0]!.title).toMatch(
      /^The lenses together stand 246 % of their focal length outside/,
    )
  })
  test('as far apart as both focal lengths they have no focus, and a finding says so', () => {
    expect(lensSystem(two(200))).toBeNull()
    expect(find('lenses-without-focus', two(200))).toHaveLength(1)
    expect(find('lens-off-focus', two(200))).toEqual([])
  })
  test('one among the elements is judged as the lens is', () => {
    const lamp = lampOf([[0, 0]], { elements: [ideal(102.5, 100)] })
    expect(find('lens-off-focus', { ...lamp, elements: [ideal(82.5, 100)] })[0]!.title).toMatch(
      /^“L82\.5” stands 20 % of its focal length inside its focus \(80 mm from the emitters/,
    )
  })
})
