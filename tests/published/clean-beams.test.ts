// Beams known in closed form, forward and backward joined as on a sheet: each figure lies within its own ± as often as 95 % says.
// Derived: integrals of cos θ, of exp(−4 ln 2 (θ/w)²), of a disc; the lens formula. No source but geometry.
import { expect, test, vi } from 'vitest'
import type { Beam, BeamFigure } from '../../src/beam/beam.ts'
import { T95 } from '../../src/num/stats.ts'
import { amount } from '../kit/amount.ts'
import { CLEAN_LAMPS } from '../kit/cleanLamps.ts'
import { seeds } from '../kit/expect.ts'
import { joinedBeam } from '../kit/joinedBeam.ts'

// A machine with other work takes its time.
vi.setConfig({ testTimeout: 600_000 })

const SEEDS = seeds(amount(2, 60))
const RAYS = amount(131_072, 524_288)

const counted = new Map<string, { inside: number; all: number }>()

test.each(CLEAN_LAMPS.map((lamp) => [lamp.name, lamp] as const))(
  '%s',
  async (_, { lamp, truth, mostError, patterned = false }) => {
    for (const seed of SEEDS) {
      const beam = await joinedBeam(lamp, { rays: RAYS, seed })
      expect(beam.patterned).toBe(patterned)
      for (const [name, byHand] of Object.entries(truth)) judge(beam, name as BeamFigure, byHand, mostError)
    }
  },
)

function judge(beam: Beam, name: BeamFigure, byHand: number, mostError: number): void {
  const figure = beam.figures[name]
  expect(figure, `${name}: ${beam.absent[name]}`).toBeDefined()
  const { value, se } = figure!
  const off = Math.abs(value - byHand)
  const scale = name.startsWith('spill') ? 1 : byHand
  const line = `${name}: ${value} ± ${T95 * se}, by hand ${byHand}`
  expect(off, line).toBeLessThan(mostError * scale)
  // Five errors: one figure in some ten thousand, with Student's t of 15.
  expect(off, line).toBeLessThanOrEqual(5 * se + 1e-9)
  const count = counted.get(name) ?? { inside: 0, all: 0 }
  counted.set(name, { inside: count.inside + (off <= T95 * se + 1e-9 ? 1 : 0), all: count.all + 1 })
}

test('± at 95 % holds the value by hand in 93 % of them at least', () => {
  const sum = (of: 'inside' | 'all') => [...counted.values()].reduce((total, c) => total + c[of], 0)
  const list = [...counted].map(([name, { inside, all }]) => `${name} ${inside} of ${all}`).join(', ')
  expect(sum('all')).toBeGreaterThan(100)
  expect(sum('inside') / sum('all'), list).toBeGreaterThanOrEqual(0.93)
})
