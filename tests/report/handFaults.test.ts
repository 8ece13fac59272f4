// What else happens to a thing, at what a small fault put in by hand got past: whatever its harm is called, that it can burn is said.
import { expect, test } from 'vitest'
import type { ThingReading } from '../../src/hazard/inTheWay.ts'
import { inSystem } from '../../src/num/quantity.ts'
import { alsoHappens } from '../../src/report/danger.ts'

test.each(['softens', 'chars and glows', 'melts', 'gets over 90 °C', 'hurts'] as const)(
  'it %s, and can catch fire',
  (harm) => {
    const thing = { harm, secondsToIgnite: 12, secondsTo90C: 3, secondsToHarm: 2, lensBehindC: 70.2 } as ThingReading
    expect(
      alsoHappens(thing, (s) => `${s} s`).map((words) => inSystem(words, 'metric').replaceAll('\u00a0', ' ')),
    ).toEqual(['can catch fire in 12 s', 'over the lamp standard’s 90 °C in 3 s', 'the lens under it to 71 °C'])
  },
)
