// The brightest light: of any mode, from a cold start, whatever the sheet follows.
import { expect, test } from 'vitest'
import { brightestLight } from '../../../src/job/power/brightest.ts'
import { lampOperatingPoint } from '../../../src/job/power/light.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { allInSystem } from '../../../src/num/quantity.ts'
import { expectWithin } from '../../kit/expect.ts'
import { oneEmitter } from '../../kit/traceHere.ts'

const sum = (x: ArrayLike<number>) => Array.from(x).reduce((a, b) => a + b, 0)

test('in the lowest mode the dangers are still those of the strongest, cold', () => {
  const lamp = gannetHead()
  const low = { ...lamp, heat: { kind: 'mode' as const, mode: 'low', seconds: 60 } }
  const [inLow, rated] = [brightestLight(low), brightestLight(lamp)]
  expect(allInSystem(inLow.from, 'metric')).toBe('“Turbo”, cold start at −20 °C')
  expectWithin(sum(inLow.fluxLm), sum(rated.fluxLm), { rel: 1e-9, because: 'the same modes' })
  expect(sum(inLow.fluxLm)).toBeGreaterThan(5 * sum(lampOperatingPoint(low).fluxLm))
  // 600 lm at 85 °C; the table has 1.15 at 25 °C and 1.2625 at −20 °C: a junction warmed by its own heat lies between.
  for (const lm of rated.fluxLm) {
    expect(lm).toBeGreaterThan(600 * 1.15)
    expect(lm).toBeLessThan(600 * 1.2625)
  }
})

test('modes that light different boards: each emitter at its own brightest', () => {
  const lamp = gannetHead()
  const power = lamp.power!
  const groups = [...new Set(lamp.boards.map((b) => ('group' in b ? b.group : undefined)))]
  expect(groups.length).toBeGreaterThan(0)
  const dim = { ...power, modes: power.modes.filter((m) => m.id !== 'turbo') }
  const both = brightestLight(lamp)
  const without = brightestLight({ ...lamp, power: dim })
  for (const [i, lm] of both.fluxLm.entries()) expect(lm).toBeGreaterThanOrEqual(without.fluxLm[i]! - 1e-9)
})

test('a lamp without modes: its boards’ own currents; without a table of temperature nothing is brighter', () => {
  const light = brightestLight(oneEmitter({ fluxLm: 500 }))
  expect([...light.fluxLm]).toEqual([500])
  expect(light.from).toBe('that of the beam sheet, the brightest there is')
})
