// What the program says of planted places is never understated by more than 5 %. Lamps and truths of an own tracer (README.md). Two test
// files share the classes, so that two workers can.
import { describe, expect, test } from 'vitest'
import { amount } from '../kit/amount.ts'
import { compare } from './compare.ts'
import type { PlantedClass } from './lamps.ts'
import { sayWith } from './say.ts'
import { SUN_CLASSES } from './sunLamps.ts'
import { readTruths } from './truths.ts'

/** A quarter of a danger sheet's rays: its ± is wider, and the upper end decides. */
const say = sayWith(amount(1 / 4, 1))

/** A sun direction is searched in a fifth of the time that the lamp's own light takes. */
const lastSeed = (name: PlantedClass) => (name in SUN_CLASSES ? amount(15, 20) : amount(2, 9))

/** Tests of the first lamps of these classes. */
export function expectSaid(classes: readonly PlantedClass[]): void {
  const stored = readTruths()
  describe.each(classes)('%s', (name) => {
    test.each(stored.filter((t) => t.name === name && t.seed <= lastSeed(name)))(
      'seed $seed',
      async ({ seed, truth }) => {
        const { ratio, upperKWm2 } = await compare(say, name, seed, truth)
        expect(ratio, `said ${upperKWm2}, true ${truth.kWm2} kW/m²`).toBeGreaterThanOrEqual(0.95)
      },
    )
  })
}
