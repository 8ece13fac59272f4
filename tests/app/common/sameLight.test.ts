import { expect, test } from 'vitest'
import { changedNames } from '../../../src/app/common/sameLight.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const lamp = gannetHead()
const painted = (of: Lamp): Lamp => ({ ...of, cooling: { ...of.cooling!, finish: 'painted' } })

test('ticks give the same light; cooling too, until the light is that of a mode’s moment', () => {
  expect(changedNames({ ...lamp, powerUp: { done: ['lamp/eyes'] } }, lamp)).toEqual([])
  expect(changedNames(painted(lamp), lamp)).toEqual([])
  const warm: Lamp = { ...lamp, heat: { kind: 'mode', mode: 'high', seconds: 60 } }
  expect(changedNames(painted(warm), warm)).toBe(null)
  expect(changedNames({ ...warm, powerUp: { done: ['lamp/eyes'] } }, warm)).toEqual([])
  expect(changedNames(warm, lamp)).toBe(null)
})

test('thresholds of the danger sheet give the same light', () => {
  expect(changedNames({ ...lamp, danger: { askedMm: [2000] } as Lamp['danger'] }, lamp)).toEqual([])
})

test('tolerances give the same light: a run over built lamps is another', () => {
  const tolerances = { lensDistanceMm: { on: true, spread: 'normal', plusMinus: 2 } } as const
  expect(changedNames({ ...lamp, tolerances }, lamp)).toEqual([])
})

test('new names are no new light, and the old ones are returned', () => {
  expect(changedNames({ ...lamp, name: 'Other' }, lamp)).toEqual([lamp.name])
})

test('workshop and screw holes give the same light, also that of a mode’s moment; the board’s other entries don’t', () => {
  const workshop = { kerfMm: 0.3, prices: { face: 12 }, massG: { face: 900 } }
  const typeWith = (part: Partial<Lamp['boardTypes'][number]>): Lamp => ({
    ...lamp,
    boardTypes: lamp.boardTypes.map((t) => ({ ...t, ...part })),
  })
  const holes = [{ xMm: 0, yMm: 14, diameterMm: 3.2 }]
  const warm = (of: Lamp): Lamp => ({ ...of, heat: { kind: 'mode', mode: 'high', seconds: 60 } })
  for (const of of [{ ...lamp, workshop }, typeWith({ holes }), { ...typeWith({ holes }), workshop }]) {
    expect(changedNames(of, lamp)).toEqual([])
    expect(changedNames(lamp, of)).toEqual([])
    expect(changedNames(warm(of), warm(lamp))).toEqual([])
  }
  expect(changedNames(typeWith({ holes, strings: 7 }), lamp)).toBe(null)
})
