import { describe, expect, test } from 'vitest'
import { checkDanger } from '../../src/checks/danger.ts'
import { plasticLimits } from '../../src/checks/plastic.ts'
import { ofLimit } from '../../src/checks/words.ts'
import { readThing, type ThingReading } from '../../src/hazard/inTheWay.ts'
import type { DangerReading } from '../../src/job/danger/result.ts'
import type { Element } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { thresholds } from '../../src/library/thresholds.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

const lamp = gannetHead()
const of = (rule: string, change: (d: DangerReading) => Partial<DangerReading>, kWm2 = 20, from = lamp) => {
  const d = fakeDanger(from, kWm2)
  return checkDanger(from, { ...d, ...change(d) }).find((f) => f.rule === rule)
}
const flat = (kWm2: number) => ({
  worst: null,
  curve: [1, 1000].map((distanceMm) => ({ distanceMm, kWm2, se: 0, discMm: 10 })),
})
const things = (kWm2: number, ...list: Parameters<typeof readThing>[1][]): ThingReading[] =>
  list.map((t) => readThing(flat(kWm2), t, thresholds(undefined), 20))
const palm = { name: 'A hand', material: 'skin', distanceMm: 0, absorbs: 1 } as const
const wall = { name: 'A wall', material: 'timber', distanceMm: 0.5, absorbs: 1 } as const
const cover = { name: 'A lid', material: 'black-plastic', distanceMm: 0, absorbs: 0.2 } as const

describe('a hand on the lens', () => {
  test('has its own finding, with pain and burn; severe under ten seconds', () => {
    const at = (kWm2: number) => of('hand-on-lens', () => ({ things: things(kWm2, palm) }))
    expect(at(8.4)).toMatchObject({ severity: 'severe', place: { kind: 'part', part: 'lens' } })
    // Stoll and Greene: pain after 5.5 s at 8.4 kW/m²; DESR 6055.09: 200 · 8.4^−1.46 = 8.95 s.
    expect(at(8.4)!.title).toBe('A hand on the lit lens hurts in 5.5 s and is burnt in 8.94 s, at up to 8.4 kW/m².')
    expect(at(2)!.severity).toBe('warning')
    expect(at(0.99)).toBeUndefined()
  })
  test('the hottest of two counts, and neither is a thing in the way', () => {
    const two = [...things(2, palm), ...things(3, { ...palm, name: 'Another' })]
    expect(of('hand-on-lens', () => ({ things: two }))!.title).toMatch(/3 kW\/m²\.$/)
    expect(of('in-the-way', () => ({ things: two }))).toBeUndefined()
    const away = things(3, { ...palm, distanceMm: 6 })
    expect(of('hand-on-lens', () => ({ things: away }))).toBeUndefined()
    expect(of('in-the-way', () => ({ things: away }))!.severity).toBe('warning')
  })
})

describe('what is nearly reached is never silent', () => {
  const calm = (d: DangerReading) => ({ clear: d.clear.map((c) => ({ ...c, shareAtWorst: 0.1 })) })
  test('timber in 4.02 of 4.3 kW/m²: 94 % of it', () => {
    const found = of('near-limit', (d) => ({ ...calm(d), things: things(4.02, wall) }))!
    expect(found.severity).toBe('warning')
    expect(found.title).toBe('Close to harm: 94 % of the limit for a wall (chars and glows from 4.3 kW/m²).')
  })
  test('from 70 % on; what is reached, or far below, isn’t in it', () => {
    const at = (kWm2: number) => of('near-limit', (d) => ({ ...calm(d), things: things(kWm2, wall) }))
    expect(at(0.71 * 4.3)).toBeDefined()
    expect(at(0.69 * 4.3)).toBeUndefined()
    expect(at(4.31)).toBeUndefined()
  })
  test('the table’s rows at the worst place, the nearest first', () => {
    const near = of('near-limit', (d) => ({
      things: [],
      clear: d.clear.map((c) => ({ ...c, shareAtWorst: c.id === 'paper' ? 0.8 : c.id === 'skin' ? 0.9 : 2 })),
    }))!
    expect(near.title).toBe(
      'Close to harm: 90 % of the limit for bare skin at the worst place (hurts from 1 kW/m²); 80 % of the limit for paper at the worst place (catches fire from 3.94 kW/m²).',
    )
  })
  test('a share is rounded up, and never to 100 %', () => {
    expect([0.931, 0.999, 0.9999999, 0.004].map(ofLimit)).toEqual(['94 %', '99 %', '99 %', '1 %'])
  })
})

describe('what is lit and can burn', () => {
  const of90 = (clearDistanceMm: number, list: ThingReading[] = []) =>
    of('lit-surfaces', (d) => ({
      things: list,
      clear: d.clear.map((c) => (c.id === 'lit-surface' ? { ...c, clearDistanceMm } : c)),
    }))
  test('the distance of the lamp standard’s 90 °C, and the things within it', () => {
    expect(of90(2871)).toMatchObject({ severity: 'warning', place: { kind: 'part', part: 'target' } })
    expect(of90(2871)!.title).toMatch(/get over the lamp standard’s 90 °C nearer than 2\.88 m\.$/)
    // Softwood: (π/4) · 0.05852 · (70/2)² = 56.3 s.
    expect(of90(2871, things(2, wall))!.title).toMatch(/nearer than 2\.88 m: a wall in 56\.3 s\.$/)
    expect(of90(2871, things(0.5, wall))!.title).toMatch(/nearer than 2\.88 m\.$/)
  })
  test('not reached, or not in the table: none', () => {
    expect(of90(0)).toBeUndefined()
    expect(of('lit-surfaces', () => ({ clear: [] }))).toBeUndefined()
  })
})

describe('a cover heats the lens under it', () => {
  test('from the lens’s own limit on a warning, from where it sags on severe', () => {
    const at = (lensBehindC: number) =>
      of('cover-traps-heat', () => ({ things: things(1, cover).map((t) => ({ ...t, lensBehindC })) }))
    expect(at(70)).toBeUndefined()
    expect(at(71)!.severity).toBe('warning')
    expect(at(96)!.severity).toBe('severe')
    expect(at(96)!.title).toBe('A lid heats the lens under it to 96 °C. The lens should stay below 70 °C.')
  })
  test('no lens, or one without a limit: none', () => {
    const hot = things(16, cover)
    expect(of('cover-traps-heat', (d) => ({ things: hot, parts: { ...d.parts, lens: null } }))).toBeUndefined()
    expect(
      of('cover-traps-heat', (d) => ({
        things: hot,
        parts: { ...d.parts, lens: { ...d.parts.lens!, keepBelowC: null } },
      })),
    ).toBeUndefined()
  })
  test('names the worst, and a second fold', () => {
    const bag = { name: 'A bag', material: 'dark-cloth', distanceMm: 0, absorbs: 1 } as const
    const both = of('cover-traps-heat', () => ({ things: things(2, cover, bag) }))!
    expect(both.title).toMatch(/^A bag heats/)
    expect(both.why).toMatch(/through a second fold/)
    expect(of('cover-traps-heat', () => ({ things: things(2, cover) }))!.why).not.toMatch(/fold/)
  })
})

describe('the lens', () => {
  const lens =
    (change: object, from = lamp) =>
    (d: DangerReading) => ({
      parts: { ...d.parts, lens: { ...d.parts.lens!, ...change } },
      lamp: from.name,
    })
  test('hot to touch, by its material and how long: plastic 85, 71, 60, 48, 43 °C', () => {
    const at = (cleanC: number) => of('lens-hot-to-touch', lens({ cleanC, dirtyC: cleanC }))
    expect([86, 72, 61, 49, 44].map((c) => at(c)!.severity)).toEqual(['severe', 'severe', 'warning', 'warning', 'note'])
    expect(at(61)!.title).toBe('The clean lens gets to 61 °C: a touch of a minute burns.')
    expect(at(42)).toBeUndefined()
  })
  test('only dirty: a note', () => {
    const found = of('lens-hot-to-touch', lens({ cleanC: 28, dirtyC: 90 }))!
    expect(found).toMatchObject({
      severity: 'note',
      title: 'Dirt on the lens gets to 90 °C: there a touch of a second or less burns.',
    })
  })
  test('glass is judged as glass', () => {
    const glass = { ...lamp, lens: { ...lamp.lens!, material: 'crown' } } as typeof lamp
    expect(of('lens-hot-to-touch', lens({ cleanC: 57, dirtyC: 57 }), 20, glass)!.title).toMatch(
      /a touch of a minute burns/,
    )
    expect(of('lens-drips', () => ({}), 20, glass)).toBeUndefined()
  })
  test('drips when alight: its kilograms and megajoules; a warning where the light can light it', () => {
    // Triangles of 45° on the plate: half a pitch over all of it.
    const { thicknessMm, pitchMm } = lamp.lens as { thicknessMm: number; pitchMm: number }
    const kg = Math.PI * 0.28 ** 2 * (thicknessMm + pitchMm / 2) * 1e-3 * 1190
    const found = of('lens-drips', lens({ kWm2: 5.6 }))!
    expect(found.severity).toBe('note')
    expect(found.title).toBe(
      `Once alight, the lens burns on and drips: ${Number(kg.toPrecision(3))} kg of acrylic, ${Number((kg * 24.9).toPrecision(3))} MJ.`,
    )
    expect(of('lens-drips', lens({ kWm2: 5.7 }))!.severity).toBe('warning')
    const other = { ...lamp, lens: { ...lamp.lens!, material: 'polycarbonate' } } as typeof lamp
    expect(of('lens-drips', lens({ kWm2: 5.7 }), 20, other)).toMatchObject({ severity: 'note' })
    expect(of('lens-drips', () => ({}), 20, { ...lamp, lens: null })).toBeUndefined()
    // A cover of acrylic, 0.4 m square and 5 mm thick: 800 cm³ of 1190 kg/m³, by its name; no light on it.
    const bench = { kind: 'ideal', zMm: 1050, focalMm: 1100, diameterMm: 560 } as const
    const cover: Element = {
      ...{ kind: 'cover', name: 'Pane', zMm: 1100, diameterMm: 400, aperture: 'square', thicknessMm: 5 },
      material: 'pmma',
    }
    const pane = of('lens-drips', () => ({}), 20, { ...lamp, lens: bench, elements: [cover] })!
    expect(pane.severity).toBe('note')
    expect(pane.title).toMatch(/^Once alight, “Pane” burns on and drips: 0\.952 kg of acrylic, 23\.7 MJ\.$/)
  })
})

test('black plastic has one pair of limits: 0.661 softens, 6.53 ignites, less in warm air', () => {
  const { softensKWm2, ignitesKWm2, words } = plasticLimits(20)
  expect([softensKWm2, ignitesKWm2]).toEqual([0.661, 6.53])
  expect(words).toMatch(/soften from 0\.661 kW\/m² and can ignite from 6\.53 kW\/m² on/)
  expect(plasticLimits(50).softensKWm2).toBeLessThan(0.4)
})
