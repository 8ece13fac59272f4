// Tables made ready are the tables of the working point, and invert.
import { describe, expect, test } from 'vitest'
import { makeEmitterTables } from '../../src/heat/emitterTables.ts'
import { solveWorkingPoint } from '../../src/heat/operating.ts'
import { EMITTERS } from '../../src/library/emitters.ts'
import { expectWithin } from '../kit/expect.ts'

describe.each(EMITTERS.map((e) => [e.name, e] as const))('%s', (_, type) => {
  test('the same volts and flux as the working point at its junction', () => {
    const tables = makeEmitterTables(type)
    for (const part of [0.2, 0.5, 1, 1.7]) {
      const a = part * type.ratedCurrentA
      const p = solveWorkingPoint(type, a, { kind: 'board', boardC: 70 })
      expectWithin(tables.volts(a, p.junctionC), p.volts, { rel: 1e-9, because: 'one table' })
      expectWithin(tables.fluxLm(a, p.junctionC), p.fluxLm, { rel: 1e-9, because: 'one table' })
    }
  })
  test('current for a voltage undoes voltage for a current', () => {
    const tables = makeEmitterTables(type)
    for (const part of [0.3, 0.8, 1.2]) {
      const a = part * type.ratedCurrentA
      expectWithin(tables.currentA(tables.volts(a, 90), 90), a, { rel: 1e-6, because: 'bisection' })
    }
    expect(tables.currentA(0.5, 90)).toBe(0)
    expect(tables.currentA(1000, 90)).toBe(type.maxCurrentA)
  })
  test('cold emitters need more volts, hot ones give less light', () => {
    const tables = makeEmitterTables(type)
    expect(tables.volts(type.ratedCurrentA, 25)).toBeGreaterThan(tables.volts(type.ratedCurrentA, 100))
    expect(tables.fluxLm(type.ratedCurrentA, 25)).toBeGreaterThan(tables.fluxLm(type.ratedCurrentA, 100))
  })
  test('outside is reported', () => {
    const tables = makeEmitterTables(type)
    expect(tables.outside(type.ratedCurrentA, 85)).toEqual([])
    expect(tables.outside(type.ratedCurrentA, 200).join()).toMatch(/^junction at 200 °C is outside its table/)
    expect(tables.outside(0.001, 85).join()).toMatch(/current of 0.001 A is outside its table/)
  })
})
