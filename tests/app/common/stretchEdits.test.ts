import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  addStretch,
  hasStep,
  lineStretch,
  moveEnds,
  moveJoint,
  placeJoint,
  removeStretch,
  shapeOf,
  sizeStretch,
  splitStretch,
  stepJoint,
  withShape,
} from '../../../src/app/common/stretchEdits.ts'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import { stretchesOf } from '../../../src/lamp/assembly.ts'
import type { Tunnel } from '../../../src/lamp/schema.ts'
import { gannetHead, stileLamp } from '../../../src/library/demos.ts'

const mirror = { reflectance: 0.95, specularShare: 0.97, scatterDeg: 0.3 }
const paint = { reflectance: 0.05, specularShare: 0.1, scatterDeg: 5, finish: 'Black inside' }
/** Three stretches: 0 to 100, 100 to 400 after a step from 200 to 240, 400 to 1000. */
const three: Tunnel = {
  ...{ ...mirror, sides: 0, inMm: 100, outMm: 600, zInMm: 0, zOutMm: 1000 },
  joints: [
    { zMm: 100, belowMm: 200, aboveMm: 240, ...paint },
    { zMm: 400, belowMm: 300, aboveMm: 300, ...mirror },
  ],
}
const ends = (t: Tunnel) => stretchesOf(t).map((s) => [s.zInMm, s.zOutMm, s.inMm, s.outMm])

describe('split and merge', () => {
  test('a stretch is split in its middle without a change of wall or lining', () => {
    const once = splitStretch(gannetHead().tunnel!, 0)
    // 14 to 1040 mm, 200 to 560 mm: the middle is at 527 mm with 380 mm.
    expect(ends(once)).toEqual([
      [14, 527, 200, 380],
      [527, 1040, 380, 560],
    ])
    const [low, high] = stretchesOf(once)
    expect(high).toMatchObject({ reflectance: low!.reflectance, specularShare: low!.specularShare })
    expect(splitStretch(three, 1, 200).joints?.map((j) => j.zMm)).toEqual([100, 200, 400])
    // 240 to 300 over 300 mm: 260 after a third.
    expect(splitStretch(three, 1, 200).joints?.[1]).toEqual({ zMm: 200, belowMm: 260, aboveMm: 260, ...paint })
    for (const z of [100, 400, 999]) expect(splitStretch(three, 1, z)).toBe(three)
  })
  test('one more halves the longest', () => {
    expect(addStretch(three).joints?.map((j) => j.zMm)).toEqual([100, 400, 700])
  })
  test('one less: the stretch before it runs on over its length, of the first the next one', () => {
    expect(ends(removeStretch(three, 2))).toEqual([
      [0, 100, 100, 200],
      [100, 1000, 240, 600],
    ])
    const withoutMiddle = removeStretch(three, 1)
    expect(ends(withoutMiddle)).toEqual([
      [0, 400, 100, 300],
      [400, 1000, 300, 600],
    ])
    expect(stretchesOf(withoutMiddle)[0]).toMatchObject(mirror)
    const withoutFirst = removeStretch(three, 0)
    expect(ends(withoutFirst)).toEqual([
      [0, 400, 100, 300],
      [400, 1000, 300, 600],
    ])
    expect(stretchesOf(withoutFirst)[0]).toMatchObject(paint)
    // The name of the lining that goes does not stay behind; nor does an empty list of joints.
    expect(removeStretch(withoutFirst, 0)).toEqual({
      ...mirror,
      sides: 0,
      inMm: 100,
      outMm: 600,
      zInMm: 0,
      zOutMm: 1000,
    })
    expect(removeStretch(gannetHead().tunnel!, 0)).toEqual(gannetHead().tunnel)
  })
})

describe('move', () => {
  test('joints stay where an end does not reach them, and are pushed on where it does', () => {
    expect(moveEnds(three, { zInMm: 50, zOutMm: 800 }).joints?.map((j) => j.zMm)).toEqual([100, 400])
    expect(moveEnds(three, { zOutMm: 300 }).joints?.map((j) => j.zMm)).toEqual([100, 299])
    expect(moveEnds(three, { zInMm: 500 }).joints?.map((j) => j.zMm)).toEqual([501, 502])
    expect(moveEnds(three, { zOutMm: 600 }).outMm).toBe(600)
  })
  test('a joint stops a millimetre from its neighbours', () => {
    expect(moveJoint(three, 0, 900).joints?.[0]?.zMm).toBe(399)
    expect(moveJoint(three, 1, -5).joints?.[1]?.zMm).toBe(101)
    expect(moveJoint(three, 1, 650.5).joints?.[1]?.zMm).toBe(650.5)
  })
  test('typed in past a neighbour it is refused, with what may stand there', () => {
    const fault = (at: number, zMm: number) => lampFault({ ...gannetHead(), tunnel: placeJoint(three, at, zMm) })
    expect(fault(0, 900)).toMatch(/^Tunnel, z: /)
    expect(fault(0, 900)).toContain('does not fit; expected ')
    expect(fault(1, -5)).not.toBeNull()
    expect(fault(1, 650.5)).toBeNull()
  })
})

describe('sizes', () => {
  test('at a joint without a step both stretches keep to the size; at a step each has its own', () => {
    expect(sizeStretch(three, 1, 'out', 'x', 333).joints?.[1]).toMatchObject({ belowMm: 333, aboveMm: 333 })
    expect(sizeStretch(three, 2, 'in', 'x', 333).joints?.[1]).toMatchObject({ belowMm: 333, aboveMm: 333 })
    expect(sizeStretch(three, 0, 'out', 'x', 210).joints?.[0]).toMatchObject({ belowMm: 210, aboveMm: 240 })
    expect(sizeStretch(three, 1, 'in', 'x', 250).joints?.[0]).toMatchObject({ belowMm: 200, aboveMm: 250 })
    expect(sizeStretch(three, 0, 'in', 'x', 90).inMm).toBe(90)
    expect(sizeStretch(three, 2, 'out', 'x', 700).outMm).toBe(700)
  })
  test('a step is begun a tenth wider, and closed to the size below', () => {
    const stepped = stepJoint(three, 1, true)
    expect(stepped.joints?.[1]).toMatchObject({ belowMm: 300, aboveMm: 330 })
    expect(hasStep(stepped.joints![1]!)).toBe(true)
    expect(stepJoint(stepped, 1, false)).toEqual(three)
    expect(stepJoint(three, 0, true)).toEqual(three)
  })
  test('a rectangle begins as a square and keeps its heights at every joint; another shape drops them', () => {
    const rectangle = withShape(three, 'rectangle')
    expect(rectangle).toMatchObject({ sides: 4, inHeightMm: 100, outHeightMm: 600 })
    expect(rectangle.joints?.[0]).toMatchObject({ belowHeightMm: 200, aboveHeightMm: 240 })
    const flat = sizeStretch(rectangle, 2, 'in', 'y', 150)
    expect(flat.joints?.[1]).toMatchObject({ aboveMm: 300, belowHeightMm: 150, aboveHeightMm: 150 })
    expect(withShape(flat, 'round')).toEqual(three)
    expect(shapeOf(withShape(three, 'polygon'))).toBe('polygon')
    expect(splitStretch(flat, 0).joints?.[0]).toMatchObject({ belowHeightMm: 150, aboveHeightMm: 150 })
  })
})

test('a lining is put on its own stretch; an entry can be taken away', () => {
  expect(lineStretch(three, 0, { reflectance: 0.5 })).toEqual({ ...three, reflectance: 0.5 })
  expect(stretchesOf(lineStretch(three, 1, { finish: undefined })).map((s) => s.finish)).toEqual([
    undefined,
    undefined,
    undefined,
  ])
})

test('whatever is edited in whatever order, the document has no fault to find', () => {
  const at = fc.integer({ min: 0, max: 5 })
  const mm = fc.integer({ min: 1, max: 2000 })
  const edit = fc.oneof(
    at.map((i) => (t: Tunnel) => splitStretch(t, i)),
    at.map((i) => (t: Tunnel) => removeStretch(t, i)),
    fc.tuple(at, mm).map(
      ([i, z]) =>
        (t: Tunnel) =>
          moveJoint(t, i, z),
    ),
    fc.tuple(mm, mm).map(
      ([a, b]) =>
        (t: Tunnel) =>
          a === b ? t : moveEnds(t, { zInMm: Math.min(a, b), zOutMm: Math.max(a, b) }),
    ),
    fc.tuple(at, mm).map(
      ([i, v]) =>
        (t: Tunnel) =>
          sizeStretch(t, Math.min(i, t.joints?.length ?? 0), 'out', 'x', v),
    ),
    fc.tuple(at, fc.boolean()).map(
      ([i, on]) =>
        (t: Tunnel) =>
          stepJoint(t, i, on),
    ),
    fc.constantFrom('round', 'polygon', 'rectangle').map((s) => (t: Tunnel) => withShape(t, s as 'round')),
  )
  fc.assert(
    fc.property(fc.array(edit, { maxLength: 12 }), (edits) => {
      const tunnel = edits.reduce((t, by) => by(t), three)
      expect(lampFault({ ...stileLamp(), tunnel })).toBeNull()
    }),
    { seed: 20_261_129, numRuns: 150 },
  )
})
