import { describe, expect, test } from 'vitest'
import { lampUltraviolet, ultravioletOf } from '../../src/hazard/eyeUltraviolet.ts'
import type { Spectrum } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter } from '../kit/traceHere.ts'

const rounding = { rel: 1e-9, because: 'rounding' }
const table = (light: Record<number, number>, below?: Record<number, number>): Spectrum => ({
  kind: 'table',
  power: Array.from({ length: 81 }, (_, i) => light[380 + 5 * i] ?? 0),
  ...(below ? { ultraviolet: Array.from({ length: 16 }, (_, i) => below[300 + 5 * i] ?? 0) } : {}),
})

describe('ultraviolet for each watt of light', () => {
  test('S(310) 0.015, S(330) 4.1e-4 (memory); near ultraviolet from 315 nm', () => {
    const { fromNm, actinicPerW, nearPerW } = ultravioletOf(table({ 500: 4 }, { 310: 0.2, 330: 0.8 }))
    expect(fromNm).toBe(300)
    expectWithin(actinicPerW, (0.2 * 0.015 + 0.8 * 4.1e-4) / 4, rounding)
    expectWithin(nearPerW, 0.8 / 4, rounding)
  })
  test('a spectrum from 380 nm: what it has up to 400 nm, and where it begins', () => {
    const { fromNm, actinicPerW, nearPerW } = ultravioletOf(table({ 390: 1, 400: 1, 405: 1, 500: 1 }))
    expect(fromNm).toBe(380)
    expectWithin(actinicPerW, (4.4e-5 + 3e-5) / 4, rounding)
    expectWithin(nearPerW, 2 / 4, rounding)
    expect(ultravioletOf({ kind: 'white', classK: 5000 }).fromNm).toBe(380)
    expect(ultravioletOf({ kind: 'mono', wavelengthNm: 555 })).toEqual({ fromNm: 380, actinicPerW: 0, nearPerW: 0 })
  })
  test('trapezoid rule: the first and the last sample count half', () => {
    const { actinicPerW } = ultravioletOf(table({ 500: 1, 780: 2 }, { 300: 1 }))
    expectWithin(actinicPerW, (0.5 * 0.3) / 2, rounding)
  })
  test('a spectrum without light gives none, whatever is below 380 nm', () => {
    expect(ultravioletOf(table({}, { 320: 1 }))).toEqual({ fromNm: 300, actinicPerW: 0, nearPerW: 0 })
  })
  test('each figure from the emitter that has most of it: one actinic, one near ultraviolet', () => {
    const lamp = oneEmitter({ spectrum: table({ 500: 1 }, { 310: 1 }) })
    const [type] = lamp.emitterTypes
    const two = {
      ...lamp,
      emitterTypes: [type!, { ...type!, id: 'f', spectrum: table({ 500: 2 }, { 330: 1, 350: 2 }) }],
      boardTypes: [...lamp.boardTypes, { ...lamp.boardTypes[0]!, id: 'c', emitter: 'f' }],
      boards: [...lamp.boards, { ...lamp.boards[0]!, id: 'B2', type: 'c', xMm: 20 }],
    }
    const { actinicPerW, nearPerW } = lampUltraviolet(two)
    expectWithin(actinicPerW, 0.015, rounding)
    expectWithin(nearPerW, 3 / 2, rounding)
    expectWithin(lampUltraviolet({ ...two, boards: two.boards.toReversed() }).nearPerW, 3 / 2, rounding)
  })
  test('of a lamp the most of its emitters; one that begins at 380 nm cuts all short', () => {
    const lamp = oneEmitter({ spectrum: table({ 500: 1 }, { 310: 1 }) })
    expectWithin(lampUltraviolet(lamp).actinicPerW, 0.015, rounding)
    expect(lampUltraviolet(lamp).fromNm).toBe(300)
    expect(lampUltraviolet(oneEmitter()).fromNm).toBe(380)
    expect(lampUltraviolet({ ...lamp, boards: [] })).toEqual({ fromNm: 300, actinicPerW: 0, nearPerW: 0 })
  })
})
