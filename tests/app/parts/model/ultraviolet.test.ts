import { expect, test } from 'vitest'
import { newSpectrum } from '../../../../src/app/parts/defaults.ts'
import { withEmitter } from '../../../../src/app/parts/edits.ts'
import {
  asSamples,
  hasUltraviolet,
  ULTRAVIOLET_NM,
  ultravioletAt,
  withUltraviolet,
  withUltravioletAt,
} from '../../../../src/app/parts/model/ultraviolet.ts'
import { lampFault } from '../../../../src/app/store/tryEdit.ts'
import { ultravioletOf } from '../../../../src/hazard/eyeUltraviolet.ts'
import type { Spectrum } from '../../../../src/lamp/schema.ts'
import { gannetHead } from '../../../../src/library/demos.ts'
import { spectrumPower } from '../../../../src/library/spectra.ts'

const white: Spectrum = { kind: 'white', classK: 6500 }
/** Light of 2 at 380 nm, 8 at its peak. */
const table: Spectrum = { kind: 'table', power: Array.from({ length: 81 }, (_, i) => (i === 0 ? 2 : i === 40 ? 8 : 4)) }

test('any spectrum becomes samples of the same light, and fits the file with ultraviolet', () => {
  const lamp = gannetHead()
  for (const spectrum of [white, { kind: 'equalEnergy' }, { kind: 'mono', wavelengthNm: 532 }] as const) {
    const samples = newSpectrum('table', spectrum)
    expect(spectrumPower(samples)).toEqual(spectrumPower(spectrum))
    const stated = withUltraviolet(samples, true)
    expect(lampFault(withEmitter(lamp, lamp.emitterTypes[0]!.id, { spectrum: stated }))).toBeNull()
  }
  expect(asSamples(table)).toBe(table)
})

test('given, ultraviolet begins as strong as at 380 nm and is read by the hazard; taken away, it is gone without a trace', () => {
  const stated = withUltraviolet(table, true)
  expect(stated).toEqual({ ...table, ultraviolet: new Array(16).fill(2) })
  expect([hasUltraviolet(table), hasUltraviolet(stated), hasUltraviolet(white)]).toEqual([false, true, false])
  expect([ultravioletOf(table).fromNm, ultravioletOf(stated).fromNm]).toEqual([380, 300])
  expect(withUltraviolet(stated, false)).toEqual(table)
  expect(withUltraviolet(stated, true)).toBe(stated)
  expect(withUltraviolet(white, true)).toBe(white)
})

test('a sample is set and read as a share of the peak of the light; the others stay', () => {
  // 0.1 of the peak of 8 is 0.8; at 380 nm stands 2 of 8.
  const set = withUltravioletAt(withUltraviolet(table, true), 13, 0.1)
  expect(set.kind === 'table' && set.ultraviolet).toEqual([...new Array(13).fill(2), 0.8, 2, 2])
  expect([ultravioletAt(set, 12), ultravioletAt(set, 13), ultravioletAt(table, 13)]).toEqual([0.25, 0.1, null])
  expect([ULTRAVIOLET_NM[0], ULTRAVIOLET_NM[13], ULTRAVIOLET_NM.at(-1)]).toEqual([300, 365, 375])
  expect(withUltravioletAt(table, 13, 0.1)).toBe(table)
})
