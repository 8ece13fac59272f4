// Readings with noise from a lamp with one known fault: the fault comes first, and its interval at 95 % covers the truth. The lamp is one in closed form
// (toyLamp.ts): what is tried is the fit itself.
import { describe, expect, test } from 'vitest'
import type { CauseKey } from '../../../src/job/fit/cause.ts'
import { withCause } from '../../../src/job/fit/causes.ts'
import { fitPoints } from '../../../src/job/fit/points.ts'
import { statesFlux } from '../../../src/job/fit/predict.ts'
import { makeQueue } from '../../../src/job/fit/queue.ts'
import type { FitResult } from '../../../src/job/fit/result.ts'
import { runFit } from '../../../src/job/fit/run.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { amount } from '../../kit/amount.ts'
import { lampWith } from '../../kit/lampWith.ts'
import { places, readAs, toyLamp, toyLux, toyPredictor } from './toyLamp.ts'

const SEEDS = amount(2, 100)
/** Fewest of so many that cover, for a coverage of 95 %: three standard errors of the binomial below (long: 95 − 3 · 2.2 of 100). */
const LEAST = amount(1, 88)

async function fitted(key: CauseKey, value: number, seed: number, board?: string): Promise<FitResult> {
  const built = withCause(toyLamp(), { key, board }, value)
  if (!built.ok) throw new Error(built.why.join(' '))
  return fittedTo(built.lamp, seed)
}

async function fittedTo(built: Lamp, seed: number, lamp = toyLamp()): Promise<FitResult> {
  const { points, states } = fitPoints(places())
  const order = { fluxLm: statesFlux(built, states), spots: points, seed: 1, rays: [] }
  const readings = readAs(toyLux({ ...order, lamp: built }).lx, seed)
  const outcome = await runFit(makeQueue([toyPredictor]), lamp, readings, { seed: 1, rays: 1024 })
  if (!outcome.ok) throw new Error(outcome.why)
  return outcome.result
}

/** Alone, of the causes tried: among all that fit alike. */
const alone = (result: FitResult, key: CauseKey, board?: string) =>
  result.explanations.find((e) => e.causes.length === 1 && e.causes[0]?.key === key && e.causes[0]?.board === board)

describe.each([
  ['lensDistance', 1062, 'the lens 12 mm too far'],
  ['flux', 0.94, '6 % of flux missing'],
  ['tiltY', 1.5, 'the lens tilted by 1.5°'],
] as const)('%s', (key, truth, words) => {
  test(words, async () => {
    let [covered, first] = [0, 0]
    for (let seed = 1; seed <= SEEDS; seed++) {
      const result = await fitted(key, truth, seed)
      const at = alone(result, key)
      const [cause] = at?.causes ?? []
      if (cause && cause.low <= truth && truth <= cause.high) covered++
      // What makes the same light (meter and flux) shares the first place.
      if ((at?.probability ?? 0) > 0.5 * (result.explanations[0]?.probability ?? 1)) first++
    }
    expect(covered).toBeGreaterThanOrEqual(LEAST)
    // A flux of − 6 % is three of the meter's own standard uncertainties (2 %): against a dozen other causes that is no proof, and it isn't called one.
    if (key !== 'flux') expect(first).toBeGreaterThanOrEqual(0.9 * SEEDS)
  })
})

test('one dark board: which', async () => {
  const boards = toyLamp().boards
  for (let seed = 1; seed <= amount(1, 20); seed++) {
    const dark = boards[1 + (seed % 6)]?.id
    const result = await fitted('dark', 1, seed, dark)
    expect(result.explanations[0]?.causes).toMatchObject([{ key: 'dark', board: dark }])
  }
})

test('a lamp as drawn is called that', async () => {
  const result = await fitted('flux', 1, 5)
  expect(result.explanations[0]?.causes).toEqual([])
  expect(result.asDrawn.birge).toBeLessThan(1.5)
})

test('the scale of the meter and the flux of the emitters can’t be told apart by lux alone', async () => {
  const result = await fitted('flux', 0.8, 3)
  const [a, b] = ['flux', 'meter'].map((key) => alone(result, key as CauseKey))
  expect(a?.chi2).toBeCloseTo(b?.chi2 ?? 0, 6)
  expect(result.next === null || result.next.apart < 2).toBe(true)
})

test('two boards dark: which', async () => {
  const lamp = toyLamp()
  const [, one, , other] = lamp.boards
  const dark = [one?.id ?? '', other?.id ?? '']
  const built = dark.reduce((of, board) => {
    const made = withCause(of, { key: 'dark', board }, 1)
    if (!made.ok) throw new Error(made.why.join(' '))
    return made.lamp
  }, lamp)
  const result = await fittedTo(built, 2)
  expect(result.explanations[0]?.causes.map((c) => c.board)).toEqual(dark)
  expect(result.explanations[0]?.probability).toBeGreaterThan(0.9)
})

test('a reversed string: which board, which string', async () => {
  // Seven emitters in two strings, as their type lists them: four and three.
  const drawn = toyLamp()
  const lamp = lampWith({ boardTypes: drawn.boardTypes.map((t) => ({ ...t, strings: 2 })) }, drawn)
  const board = lamp.boards[3]?.id ?? ''
  const built = withCause(lamp, { key: 'darkString', board, string: 1 }, 1)
  if (!built.ok) throw new Error(built.why.join(' '))
  const type = built.lamp.boardTypes.find((t) => t.id === built.lamp.boards[3]?.type)
  expect(type?.sites).toEqual(drawn.boardTypes[0]?.sites.slice(4))
  expect(built.lamp.boards[3]?.currentA).toBeCloseTo(2 * (drawn.boards[3]?.currentA ?? 0), 9)
  const result = await fittedTo(built.lamp, 4, lamp)
  expect(result.explanations[0]?.causes).toMatchObject([{ key: 'darkString', board, string: 1 }])
})
