// Example lamps with stretches, covers and pieces: what a document must be, by its schema, its sentences and its findings.
import { describe, expect, test } from 'vitest'
import { checkDesign } from '../../src/checks/check.ts'
import { findAssemblyFaults } from '../../src/lamp/assemblyChecks.ts'
import { findLensFaults } from '../../src/lamp/lensChecks.ts'
import { lampSchema } from '../../src/lamp/schema.ts'
import { findLayoutFaults } from '../../src/layout/clearance.ts'
import { binLamp, slipLight } from '../../src/library/demosAssembled.ts'
import { lensSystem } from '../../src/library/lensSystem.ts'

describe.each([
  ['bin lamp', binLamp(), 300],
  ['slip light', slipLight(), 18],
] as const)('%s', (_, lamp, emitters) => {
  test('is a lamp of the schema, without a fault of its parts, and its boards keep clear of each other', () => {
    expect(lampSchema.safeParse(lamp).error).toBeUndefined()
    expect([...findAssemblyFaults(lamp), ...findLensFaults(lamp)]).toEqual([])
    expect(findLayoutFaults(lamp)).toEqual([])
    const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
    expect(lamp.boards.reduce((sum, b) => sum + (sites.get(b.type) ?? 0), 0)).toBe(emitters)
  })
  test('has no finding that a better drawing would spare it', () => {
    expect(checkDesign(lamp).filter((f) => f.severity !== 'note')).toEqual([])
  })
})

test('the bin lamp’s sheet is cut off centre, yet its optical axis is the lamp’s', () => {
  const { lens } = binLamp()
  expect((lens!.centreXMm ?? 0) + (lens!.decentreXMm ?? 0)).toBe(0)
  expect(lensSystem(binLamp())).toMatchObject({ focalMm: 600, focusZMm: -32 })
})
