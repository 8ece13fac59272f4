import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { HandleName } from '../../../../src/app/section/model/handle.ts'
import { handlesOf, snapped, widestLensMm, withHandle } from '../../../../src/app/section/model/handles.ts'
import { createDesign } from '../../../../src/app/store/design.ts'
import { conicSag, lensSpan } from '../../../../src/lamp/body.ts'
import { readLamp } from '../../../../src/lamp/read.ts'
import type { Lamp, SolidLens } from '../../../../src/lamp/schema.ts'
import { DEMOS, gannetHead, stileLamp } from '../../../../src/library/demos.ts'

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
      { seed: 20_260_118, numRuns: 300 },
    )
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
