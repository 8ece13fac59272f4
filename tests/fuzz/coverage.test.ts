// The ± of a sheet holds the truth as often as 95 % says: in 93 of 100 sheets at least. Truth: a far longer trace of other seeds, its own error
// counted, or a closed form (tests/kit/cleanLamps.ts). Figures of one sheet hang together, so each has a bound of its own: no fewer hits than
// the binomial distribution leaves one chance in a thousand of at 93 %. The table of all of them: `npm run bench -- coverage`.
import { describe, expect, test, vi } from 'vitest'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { CLEAN_LAMPS } from '../kit/cleanLamps.ts'
import { type Coverage, type Figures, judgeSheets, type StagedSheet, sheetsOf, traceTruth } from '../kit/coverage.ts'
import { seeds } from '../kit/expect.ts'
import { randomLamp } from '../kit/randomLamp.ts'

// A machine with other work takes its time.
vi.setConfig({ testTimeout: 7_200_000 })

const WANTED = 0.93
const CHANCE = 1e-3

/** The least k for which k hits or fewer of n come with a chance above CHANCE. */
function fewestHits(n: number): number {
  let probability = (1 - WANTED) ** n
  let sum = probability
  let k = 0
  while (sum <= CHANCE) {
    probability *= ((n - k) / (k + 1)) * (WANTED / (1 - WANTED))
    sum += probability
    k++
  }
  return k
}

const counted = new Map<string, { inside: number; all: number }>()

async function cover(
  lamp: Lamp,
  options: { seeds: readonly number[]; maxRays: number; sheets: number },
  known?: Figures,
) {
  const sheets: StagedSheet[] = []
  for (const seed of options.seeds) sheets.push(...(await sheetsOf(lamp, { ...options, seed })))
  const truth = known ?? (await traceTruth(lamp, TRUTH.traces, TRUTH.rays))
  for (const row of judgeSheets(sheets, truth)) count(row)
}

function count({ stage, figure, inside, outside }: Coverage): void {
  const key = `${stage}: ${figure}`
  const before = counted.get(key) ?? { inside: 0, all: 0 }
  counted.set(key, { inside: before.inside + inside, all: before.all + inside + outside })
}

const TRUTH = amount({ traces: 2, rays: 200_000 }, { traces: 8, rays: 4_000_000 })
const SHEETS = amount({ maxRays: 1 << 17, sheets: 1 }, { maxRays: 1_000_000, sheets: 3 })

describe('traced', () => {
  const examples = amount(['stile-lamp', 'wide-array'], Object.keys(DEMOS))
  test.each(examples)('%s', (name) => cover(DEMOS[name]!(), { seeds: seeds(amount(18, 200)), ...SHEETS }))
  test.each(seeds(amount(0, 30)))('random lamp %i', (seed) => cover(randomLamp(seed), { seeds: seeds(40), ...SHEETS }))
})

describe('in closed form', () => {
  const clean = CLEAN_LAMPS.filter(({ name }) => amount(['Gaussian of 5°'], [name]).includes(name))
  test.each(clean.map((c) => [c.name, c] as const))('%s', (_, { lamp, truth }) => {
    const known: Figures = new Map(Object.entries(truth).map(([figure, value]) => [figure, { value, se: 0 }]))
    return cover(lamp, { seeds: seeds(amount(18, 200)), ...SHEETS }, known)
  })
})

describe('of all lamps', () => {
  test('each figure', () => {
    const few = [...counted].filter(([, { inside, all }]) => inside < fewestHits(all))
    expect(few.map(([key, { inside, all }]) => `${key}: ${inside} of ${all}`)).toEqual([])
  })
  test('all figures together', () => {
    const sum = (of: 'inside' | 'all') => [...counted.values()].reduce((total, c) => total + c[of], 0)
    expect(sum('all')).toBeGreaterThan(1000)
    expect(sum('inside') / sum('all')).toBeGreaterThanOrEqual(WANTED)
  })
})
