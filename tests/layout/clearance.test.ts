import { describe, expect, test } from 'vitest'
import type { Board, KeepOut } from '../../src/lamp/schema.ts'
import { FAULTS_MOST, findLayoutFaults, TOLERANCE_MM } from '../../src/layout/clearance.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { lampWith } from '../kit/lampWith.ts'

const at = (...places: [number, number][]): Board[] =>
  places.map(([xMm, yMm], i) => ({ id: `B${i + 1}`, type: 'seven', xMm, yMm, turnDeg: 0, currentA: 1 }))
/** Discs of 35 mm on a round face of 200 mm: clearance 0.5, margin 2. */
const lampAt = (boards: Board[], keepOuts: KeepOut[] = []) => lampWith({ boards, face: { keepOuts } })

test.each(Object.keys(DEMOS))('the example %s has no fault', (name) =>
  expect(findLayoutFaults(DEMOS[name]!())).toEqual([]),
)

describe('each kind of fault', () => {
  test('overlap, and the optics that run into each other by it', () => {
    const [overlap, optics, ...more] = findLayoutFaults(lampAt(at([0, 0], [30, 0])))
    expect(overlap).toMatchObject({ kind: 'overlap', boards: [0, 1], gapMm: -5, xMm: 15, yMm: 0 })
    // Emitters at 12 and 30 − 12 mm, collimators of 10 mm.
    expect(optics).toMatchObject({ kind: 'opticsOverlap', boards: [0, 1], gapMm: -4, xMm: 15, yMm: 0 })
    expect(optics!.emitters).toEqual([
      { board: 0, site: 1 },
      { board: 1, site: 4 },
    ])
    expect(more).toEqual([])
  })
  test('clearance', () => {
    const faults = findLayoutFaults(lampAt(at([0, 0], [0, 35.3])))
    expect(faults).toHaveLength(1)
    expect(faults[0]).toMatchObject({ kind: 'clearance', boards: [0, 1], wantedMm: 0.5, xMm: 0 })
    expect(faults[0]!.gapMm).toBeCloseTo(0.3, 12)
  })
  test('margin, and overhang past the edge', () => {
    const faults = findLayoutFaults(lampAt(at([81, 0], [0, -90])))
    expect(faults.map((f) => [f.kind, f.boards, f.gapMm])).toEqual([
      ['margin', [0], 1.5],
      ['overhang', [1], -7.5],
    ])
    expect(faults[1]).toMatchObject({ xMm: 0, yMm: -107.5 })
  })
  test('keep-out', () => {
    const keepOuts: KeepOut[] = [
      { shape: 'hole', xMm: 0, yMm: 60, diameterMm: 4, why: '' },
      { shape: 'slot', xMm: 23.75, yMm: 0, lengthMm: 40, widthMm: 12, turnDeg: 90, why: '' },
      { shape: 'hole', xMm: -10, yMm: 0, diameterMm: 4, why: '' },
    ]
    const faults = findLayoutFaults(lampAt(at([0, 0]), keepOuts))
    expect(faults.map((f) => [f.kind, f.boards, f.keepOut, f.gapMm])).toEqual([
      ['keepOut', [0], 1, 0.25],
      ['keepOut', [0], 2, -9.5],
    ])
  })
  test('optics within one board are listed once, the worst pair', () => {
    const lamp = lampWith({
      optic: 'wide',
      opticTypes: [{ ...collimator, exitDiameterMm: 13 }],
      boards: at([0, 0], [60, 0]),
    })
    const faults = findLayoutFaults(lamp)
    expect(faults.map((f) => [f.kind, f.boards])).toEqual([
      ['opticsOverlap', [0]],
      ['opticsOverlap', [1]],
    ])
    expect(faults[0]!.gapMm).toBeCloseTo(-1, 3)
  })
  test('a bare emitter takes the room of its package', () => {
    const lamp = lampWith({ boards: [{ ...at([0, 0])[0]!, optic: 'bare' }] })
    expect(findLayoutFaults(lamp)).toEqual([])
    const thick = { ...lamp, emitterTypes: [{ ...lamp.emitterTypes[0]!, bodyMm: 12.5 }] }
    expect(findLayoutFaults(thick).map((f) => f.kind)).toEqual(['opticsOverlap'])
  })
})

const collimator = {
  kind: 'collimator',
  id: 'wide',
  name: 'Wide',
  exitDiameterMm: 13,
  heightMm: 12,
  fwhmDeg: 12,
  shape: 'gaussian',
  efficiency: 0.9,
} as const

describe('what is no fault', () => {
  test('a gap short by less than the rounding of documents', () => {
    expect(findLayoutFaults(lampAt(at([0, 0], [35.5 - TOLERANCE_MM * 0.9, 0])))).toEqual([])
    expect(findLayoutFaults(lampAt(at([0, 0], [35.5 - TOLERANCE_MM * 1.1, 0])))).toHaveLength(1)
    expect(findLayoutFaults(lampAt(at([80.5 + TOLERANCE_MM * 0.9, 0])))).toEqual([])
  })
  test('no boards', () => expect(findLayoutFaults(lampAt([]))).toEqual([]))
})

test('faults come in the order of the boards, however far apart these lie', () => {
  const faults = findLayoutFaults(lampAt(at([60, 0], [-60, 0], [-40, 0], [40, 0])))
  expect(faults.filter((f) => f.kind === 'overlap').map((f) => f.boards)).toEqual([
    [0, 3],
    [1, 2],
  ])
})

test('everything on one spot: a bounded list, with every kind that is there', () => {
  const pile = lampAt(at(...Array.from({ length: 1400 }, (): [number, number] => [95, 0])))
  const faults = findLayoutFaults(pile)
  expect(faults.length).toBeLessThanOrEqual(2 * FAULTS_MOST + 1400)
  expect(new Set(faults.map((f) => f.kind))).toEqual(new Set(['overlap', 'overhang', 'opticsOverlap']))
})
