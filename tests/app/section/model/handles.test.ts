import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Cut } from '../../../../src/app/common/cut.ts'
import type { HandleName } from '../../../../src/app/section/model/handle.ts'
import { handlesOf, snapped, widestLensMm, withHandle } from '../../../../src/app/section/model/handles.ts'
import { createDesign } from '../../../../src/app/store/design.ts'
import { beginCheckedDrag, lampFault } from '../../../../src/app/store/tryEdit.ts'
import { conicSag, lensSpan } from '../../../../src/lamp/body.ts'
import { readLamp } from '../../../../src/lamp/read.ts'
import type { FresnelLens, Lamp, SolidLens } from '../../../../src/lamp/schema.ts'
import { DEMOS, gannetHead, stileLamp } from '../../../../src/library/demos.ts'
import { amount } from '../../../kit/amount.ts'

const solid: SolidLens = {
  kind: 'solid',
  zMm: 1200,
  diameterMm: 100,
  radiusMm: 120,
  conic: 0,
  thicknessMm: 20,
  curved: 'source',
  material: 'crown',
}
const lamps: Record<string, () => Lamp> = {
  ...DEMOS,
  'solid lens': () => ({ ...gannetHead(), lens: solid }),
  'parabolic lens, no tunnel': () => ({ ...gannetHead(), tunnel: null, lens: { ...solid, conic: -1 } }),
  'grooves to the source': () => {
    const lamp = gannetHead()
    return lamp.lens?.kind === 'fresnel' ? { ...lamp, lens: { ...lamp.lens, grooves: 'source' } } : lamp
  },
}
const lining = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
/** Two joints, the first with a step; a tilted, decentred rectangle of a lens; a cover and a film in front. */
const built = (): Lamp => {
  const lamp = gannetHead()
  return {
    ...lamp,
    tunnel: {
      ...{ ...lamp.tunnel!, sides: 4, inHeightMm: 200, outHeightMm: 400 },
      joints: [
        { ...lining, zMm: 300, belowMm: 300, aboveMm: 340, belowHeightMm: 240, aboveHeightMm: 260 },
        { ...lining, zMm: 700, belowMm: 450, aboveMm: 450, belowHeightMm: 330, aboveHeightMm: 330 },
      ],
    },
    lens: {
      ...{ ...(lamp.lens as FresnelLens), zMm: 1100, aperture: 'rectangle', heightMm: 400 },
      ...{ decentreYMm: 10, tiltXDeg: 5, centreXMm: 20 },
    },
    elements: [
      { name: 'Film', kind: 'diffuser', ...sheet, zMm: 1200, spreadDeg: 5, transmittance: 0.9, reflectance: 0.05 },
      { name: 'Cover', kind: 'cover', ...sheet, zMm: 1170, thicknessMm: 4, material: 'pmma' },
    ],
  }
}
const sheet = { aperture: 'square', diameterMm: 600 } as const

const BUILT: HandleName[] = [
  ...(['joint0Z', 'joint0Size', 'joint0Step', 'joint1Z', 'joint1Size'] as const),
  ...(['lensDecentre', 'element0Z', 'element1Z'] as const),
]
const NAMES: HandleName[] = ['inletZ', 'inletSize', 'outletZ', 'outletSize', 'lensZ', 'lensSize']

describe('whatever is dragged wherever, the lamp stays one that can be read', () => {
  test.each(Object.keys(lamps))('%s', (name) => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...NAMES), fc.double({ min: -500, max: 12_000, noNaN: false })), {
          maxLength: 6,
        }),
        (drags) => {
          let lamp = lamps[name]!()
          for (const [handle, mm] of drags) lamp = withHandle(lamp, handle, snapped(mm, false))
          const read = readLamp(lamp)
          expect(read.ok ? '' : read.why.join(' ')).toBe('')
        },
      ),
      { seed: 20_260_118, numRuns: amount(100, 300) },
    )
  })
})

test('of a lamp as built, too: joints, a tilted lens, a row of elements', () => {
  expect(lampFault(built())).toBeNull()
  fc.assert(
    fc.property(
      fc.array(
        fc.tuple(
          fc.constantFrom(...NAMES, ...BUILT),
          fc.double({ min: -500, max: 3000, noNaN: true }),
          fc.constantFrom('upright', 'level'),
        ),
        { maxLength: 6 },
      ),
      (drags) => {
        const design = createDesign(built())
        // As a drag does it: what the document refuses leaves the lamp as it was.
        for (const [handle, mm, cut] of drags) {
          const session = beginCheckedDrag(design, handle)
          const next = withHandle(design.lamp(), handle, snapped(mm, false), cut as Cut)
          if (handle !== 'lensSize' && handle !== 'lensDecentre')
            expect([handle, lampFault(next)]).toEqual([handle, null])
          session.preview(() => next)
          session.commit()
        }
        expect(lampFault(design.lamp())).toBeNull()
      },
    ),
    { seed: 20_261_129, numRuns: 40 },
  )
})

describe('joints and elements', () => {
  const handle = (lamp: Lamp, name: HandleName, cut: Cut = 'upright') =>
    handlesOf(lamp, cut).find((h) => h.name === name)!
  test('a lamp as built has handles for each', () => {
    expect(handlesOf(built()).map((h) => h.name)).toEqual(expect.arrayContaining([...NAMES, ...BUILT]))
    // A joint without a step has none for it; a curve of many joints has none at all.
    expect(handlesOf(built()).map((h) => h.name)).not.toContain('joint1Step')
    const { tunnel } = built()
    const many = Array.from({ length: 9 }, (_, i) => ({ ...tunnel!.joints![1]!, zMm: 300 + i }))
    expect(handlesOf({ ...built(), tunnel: { ...tunnel!, joints: many } }).filter((h) => h.part === 'joint')).toEqual(
      [],
    )
  })
  test('the size of a joint moves both sides, the step stays; its own handle changes the step', () => {
    const wider = withHandle(built(), 'joint0Size', 320, 'level').tunnel!.joints![0]!
    expect([wider.belowMm, wider.aboveMm, wider.belowHeightMm, wider.aboveHeightMm]).toEqual([320, 360, 240, 260])
    const higher = withHandle(built(), 'joint0Size', 250, 'upright').tunnel!.joints![0]!
    expect([higher.belowMm, higher.aboveMm, higher.belowHeightMm, higher.aboveHeightMm]).toEqual([300, 340, 250, 270])
    const step = withHandle(built(), 'joint0Step', 400, 'level').tunnel!.joints![0]!
    expect([step.belowMm, step.aboveMm]).toEqual([300, 400])
  })
  test('the section says which of a rectangle it shows', () => {
    expect(handle(built(), 'outletSize').label).toBe('Tunnel outlet, height')
    expect(handle(built(), 'outletSize').valueMm).toBe(400)
    expect(handle(built(), 'outletSize', 'level').label).toBe('Tunnel outlet, width')
    expect(withHandle(built(), 'outletSize', 410).tunnel).toMatchObject({ outMm: 560, outHeightMm: 410 })
    expect(withHandle(built(), 'lensSize', 390).lens).toMatchObject({ diameterMm: 560, heightMm: 390 })
  })
  test('an element stops at its neighbours, a joint between its own', () => {
    // The film is in front: the cover of 4 mm stops before it at 1196.
    expect(withHandle(built(), 'element1Z', 1500).elements?.[1]?.zMm).toBe(1196)
    expect(withHandle(built(), 'element0Z', 0).elements?.[0]?.zMm).toBe(1174)
    expect(withHandle(built(), 'joint0Z', 2000).tunnel?.joints?.[0]?.zMm).toBe(699)
    expect(withHandle(built(), 'outletZ', 500).tunnel?.joints?.map((j) => j.zMm)).toEqual([300, 499])
  })
})

describe('handles', () => {
  test('a lamp has those of its parts', () => {
    expect(handlesOf(gannetHead()).map((h) => h.name)).toEqual(NAMES)
    expect(handlesOf(stileLamp())).toEqual([])
  })
  test('the lens stops at the tunnel and the tunnel at the lens', () => {
    const near = withHandle(gannetHead(), 'lensZ', 20)
    expect(lensSpan(near.lens!)[0]).toBe(1040)
    const long = withHandle(gannetHead(), 'outletZ', 5000)
    expect(long.tunnel?.zOutMm).toBe(1050)
    expect(withHandle(gannetHead(), 'inletZ', 2000).tunnel?.zInMm).toBe(1039)
  })
  test('nothing changed is the same lamp', () => {
    const lamp = gannetHead()
    expect(withHandle(lamp, 'lensZ', 1050)).toBe(lamp)
    expect(withHandle(lamp, 'lensZ', Number.NaN)).toBe(lamp)
    expect(withHandle(stileLamp(), 'lensZ', 10).lens).toBeNull()
  })
  test('whole millimetres, tenths on wish', () => {
    expect(snapped(14.46, false)).toBe(14)
    expect(snapped(14.46, true)).toBe(14.5)
  })
  test('a solid lens keeps its edge', () => {
    const widest = widestLensMm(solid)
    expect(conicSag(widest / 2, solid.radiusMm, 0)).toBeLessThan(solid.thicknessMm)
    expect(conicSag(widest / 2 + 0.5, solid.radiusMm, 0)).toBeGreaterThan(solid.thicknessMm)
  })
  test('a drag is one step of history; a cancelled one is none', () => {
    const design = createDesign(gannetHead())
    const before = design.lamp()
    const session = design.beginDrag('Move the lens')
    for (const mm of [1051, 1060, 1077]) session.preview((lamp) => withHandle(lamp, 'lensZ', mm))
    session.commit()
    expect(design.lamp().lens?.zMm).toBe(1077)
    design.undo()
    expect(design.lamp()).toBe(before)
    expect(design.canUndo()).toBe(false)
    const other = design.beginDrag('Move the lens')
    other.preview((lamp) => withHandle(lamp, 'lensZ', 1100))
    other.cancel()
    expect(design.lamp()).toBe(before)
    expect(design.canUndo()).toBe(false)
  })
})
