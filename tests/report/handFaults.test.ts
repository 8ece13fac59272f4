// What else happens to a thing, at what a small fault put in by hand got past: whatever its harm is called, that it can burn is said.
import { expect, test } from 'vitest'
import type { ThingReading } from '../../src/hazard/inTheWay.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { inSystem } from '../../src/num/quantity.ts'
import { alsoHappens } from '../../src/report/danger.ts'
import { leadDistances } from '../../src/report/dangerLead.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

test.each(['softens', 'chars and glows', 'melts', 'gets over 90 °C', 'hurts'] as const)(
  'it %s, and can catch fire',
  (harm) => {
    const thing = { harm, secondsToIgnite: 12, secondsTo90C: 3, secondsToHarm: 2, lensBehindC: 70.2 } as ThingReading
    expect(
      alsoHappens(thing, (s) => `${s} s`).map((words) => inSystem(words, 'metric').replaceAll('\u00a0', ' ')),
    ).toEqual(['can catch fire in 12 s', 'over the lamp standard’s 90 °C in 3 s', 'the lens under it to 71 °C'])
  },
)

test('what burns: also what chars, the farthest of all', () => {
  const sheet = fakeDanger(gannetHead())
  const clear = sheet.clear.map((c) => ({ ...c, clearDistanceMm: c.id === 'timber' ? 9000 : 100 }))
  const fire = leadDistances({ ...sheet, clear }).find((d) => d.of === 'fire')!
  expect(fire.figure.replace('\u00a0', ' ')).toBe('9 m')
})
