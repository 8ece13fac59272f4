import { expect, test } from 'vitest'
import { createDesign } from '../../../src/app/store/design.ts'
import { beginCheckedDrag, lampFault, tryEdit } from '../../../src/app/store/tryEdit.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { DEMOS, gannetHead } from '../../../src/library/demos.ts'

const sized =
  (sizeMm: number) =>
  (lamp: Lamp): Lamp => ({ ...lamp, face: { ...lamp.face, sizeMm } })
const tunnelEnd =
  (zOutMm: number) =>
  (lamp: Lamp): Lamp => ({ ...lamp, tunnel: { ...lamp.tunnel!, zOutMm } })

test('every example fits', () => {
  for (const make of Object.values(DEMOS)) expect(lampFault(make())).toBeNull()
})

test('what the schema allows is one step; the rest is refused in words and leaves the lamp alone', () => {
  const design = createDesign(gannetHead())
  expect(tryEdit(design, 'Face', sized(220))).toBeNull()
  expect(design.canUndo()).toBe(true)
  const before = design.lamp()
  expect(tryEdit(design, 'Face', sized(-1))).toBe('Face, size across: -1 does not fit; expected at least 1.')
  expect(tryEdit(design, 'Tunnel', tunnelEnd(1060))).toMatch(
    /^Lens, stands at z: the lens reaches back to 1050 mm, into the tunnel/,
  )
  expect(design.lamp()).toBe(before)
})

test('parts that were not touched stay the same objects', () => {
  const design = createDesign(gannetHead())
  const { boards } = design.lamp()
  tryEdit(design, 'Face', sized(220))
  expect(design.lamp().boards).toBe(boards)
})

test('a drag session keeps the last valid value', () => {
  const design = createDesign(gannetHead())
  const session = beginCheckedDrag(design, 'Tunnel')
  expect(session.preview(tunnelEnd(1045))).toBeNull()
  expect(session.preview(tunnelEnd(1060))).not.toBeNull()
  expect(design.lamp().tunnel!.zOutMm).toBe(1045)
  session.commit()
  design.undo()
  expect(design.lamp().tunnel!.zOutMm).toBe(1040)
})
