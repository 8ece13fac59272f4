import { expect, test } from 'vitest'
import { createDesign } from '../../../src/app/store/design.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead, stileLamp } from '../../../src/library/demos.ts'

const named =
  (name: string) =>
  (lamp: Lamp): Lamp => ({ ...lamp, name })

test('each edit is one step back and forth', () => {
  const design = createDesign(gannetHead())
  design.edit('A', named('a'))
  design.edit('B', named('b'))
  design.undo()
  expect(design.lamp().name).toBe('a')
  expect(design.store.getState().label).toBe('A')
  design.undo()
  expect(design.lamp().name).toBe('Gannet Head')
  expect(design.canUndo()).toBe(false)
  design.redo()
  design.redo()
  expect(design.lamp().name).toBe('b')
  expect(design.canRedo()).toBe(false)
})

test('an edit that changes nothing is no step', () => {
  const design = createDesign(gannetHead())
  design.edit('Nothing', (lamp) => lamp)
  expect(design.canUndo()).toBe(false)
})

test('a drag is one step however many previews it has', () => {
  const design = createDesign(gannetHead())
  const session = design.beginDrag('Drag')
  for (let i = 0; i < 40; i++) session.preview(named(`n${i}`))
  expect(design.canUndo()).toBe(false)
  session.commit()
  expect(design.lamp().name).toBe('n39')
  design.undo()
  expect(design.lamp().name).toBe('Gannet Head')
  expect(design.canUndo()).toBe(false)
  design.redo()
  expect(design.lamp().name).toBe('n39')
})

test('a cancelled drag leaves no trace', () => {
  const design = createDesign(gannetHead())
  const before = design.lamp()
  const session = design.beginDrag('Drag')
  session.preview(named('elsewhere'))
  session.cancel()
  session.preview(named('late'))
  session.commit()
  expect(design.lamp()).toBe(before)
  expect(design.canUndo()).toBe(false)
  design.edit('After', named('after'))
  expect(design.canUndo()).toBe(true)
})

test('a new edit clears the redo list', () => {
  const design = createDesign(gannetHead())
  design.edit('A', named('a'))
  design.undo()
  design.edit('B', named('b'))
  expect(design.canRedo()).toBe(false)
})

test('opening another lamp clears the history', () => {
  const design = createDesign(gannetHead())
  design.edit('A', named('a'))
  design.undo()
  design.open(stileLamp())
  expect(design.canUndo()).toBe(false)
  expect(design.canRedo()).toBe(false)
  expect(design.lamp().name).toBe('Stile lamp')
})
