// Cooling and power in the document: what is refused, and in which words.
import { describe, expect, test } from 'vitest'
import { readLamp, readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS, gannetHead, wideArray } from '../../src/library/demos.ts'
import { boardThermalOf, coolingOf, powerOf } from '../../src/library/typicalPower.ts'

const why = (lamp: unknown): string[] => {
  const read = readLamp(lamp)
  return read.ok ? [] : read.why
}
const gannet = gannetHead()
const power = gannet.power!

describe('names and ranges', () => {
  test.each<[Partial<Lamp>, RegExp]>([
    [{ power: { ...power, groups: [{ ...power.groups[0]!, driver: 'x' }] } }, /^power.groups\[0\].driver: no driver/],
    [{ boards: [{ ...gannet.boards[0]!, group: 'x' }] }, /^boards\[0\].group: no group called "x"; there is all\.$/],
    [{ heat: { kind: 'mode', mode: 'x', seconds: 1 } }, /^heat.mode: no mode called "x"; there is low, high, turbo\.$/],
    [
      { power: { ...power, modes: [{ ...power.modes[0]!, groupA: { x: 1 } }] } },
      /^power.modes\[0\].groupA: no group called "x"/,
    ],
    [{ power: { ...power, modes: [power.modes[0]!, power.modes[0]!] } }, /stands twice/],
    [
      { power: { ...power, drivers: [{ ...power.drivers[0]!, inputMinV: 80 }] } },
      /^power.drivers\[0\].inputMaxV: 60 does not fit/,
    ],
    [
      {
        emitterTypes: [
          {
            ...gannet.emitterTypes[0]!,
            forwardByJunction: [
              { junctionC: 25, factor: 1 },
              { junctionC: 25, factor: 1 },
            ],
          },
        ],
      },
      /^emitterTypes\[0\].forwardByJunction\[1\]: 25 does not fit; the column must rise\.$/,
    ],
    [
      {
        cooling: {
          ...gannet.cooling!,
          air: {
            kind: 'fan',
            curve: [
              { flowM3h: 0, pascal: 10 },
              { flowM3h: 5, pascal: 20 },
            ],
          },
        },
      },
      /^cooling.air.curve\[1\]: flow must rise and pressure must not\.$/,
    ],
  ])('%#', (over, words) => {
    expect(why({ ...gannet, ...over })).toEqual([expect.stringMatching(words)])
  })

  test.each<[NonNullable<Lamp['power']>['protection'], RegExp | null]>([
    [{}, null],
    [{ cutOut: { openC: 80 } }, null],
    [{ cutOut: { openC: 80, closeC: 79 }, foldBack: { startC: 60, endC: 61, leastShare: 0 } }, null],
    [
      { cutOut: { openC: 80, closeC: 79.5 } },
      /^power\.protection\.cutOut\.closeC: 79\.5 does not fit; expected at least 1 K under openC \(80\)\.$/,
    ],
    [
      { foldBack: { startC: 60, endC: 60, leastShare: 0.5 } },
      /^power\.protection\.foldBack\.endC: 60 does not fit; expected at least 1 K over startC \(60\)\.$/,
    ],
    [{ foldBack: { startC: 60, endC: 80, leastShare: 1.1 } }, /^power\.protection\.foldBack\.leastShare: 1\.1/],
    [{ foldBack: { startC: 60, endC: 80, leastShare: -0.1 } }, /^power\.protection\.foldBack\.leastShare: -0\.1/],
    // In the cold air of the danger sheet, −20 °C, none of them acts: the brightest light is that without.
    [{ cutOut: { openC: 80 }, sensor: { xMm: 60, yMm: 60, lagS: 5 } }, null],
    [
      { cutOut: { openC: 80 }, sensor: { xMm: 300, yMm: 400, lagS: 5 } },
      /^power\.protection\.sensor: 300, 400 mm does not lie on the face; expected at most \d+ mm from its middle\.$/,
    ],
    [{ cutOut: { openC: 80 }, sensor: { xMm: 0, yMm: 0, lagS: -1 } }, /^power\.protection\.sensor\.lagS: -1/],
    [{ cutOut: { openC: 19 } }, /^power\.protection\.cutOut\.openC: 19/],
    [{ foldBack: { startC: 19, endC: 80, leastShare: 0.5 } }, /^power\.protection\.foldBack\.startC: 19/],
  ])('protection %#', (protection, words) => {
    const found = why({ ...gannet, power: { ...power, protection } })
    expect(found).toEqual(words === null ? [] : [expect.stringMatching(words)])
  })

  test('a mode needs a lamp with power', () => {
    expect(why({ ...wideArray(), heat: { kind: 'mode', mode: 'full', seconds: 0 } })).toEqual([
      'heat.mode: the lamp has no power entry, so no modes.',
    ])
  })
})

describe('a sink by its data sheet', () => {
  const rated = { kind: 'rated', resistanceKW: 0.5, heatCapacityJK: 400, flow: 'forced', maxW: 120 }
  const withSink = (sink: object) => ({ ...gannet, cooling: { ...gannet.cooling!, sink } })

  test('reads, and comes back the same from its file; the largest heat may be left out', () => {
    const read = readLampText(writeLampText(withSink(rated) as Lamp))
    expect(read.ok && read.lamp.cooling!.sink).toEqual(rated)
    const { maxW: _, ...unsaid } = rated
    expect(why(withSink(unsaid))).toEqual([])
  })
  test.each([
    [{ resistanceKW: 0 }, 'cooling.sink.resistanceKW: 0 does not fit; expected at least 0.001.'],
    [{ resistanceKW: 1001 }, 'cooling.sink.resistanceKW: 1001 does not fit; expected at most 1000.'],
    [{ heatCapacityJK: -1 }, 'cooling.sink.heatCapacityJK: -1 does not fit; expected at least 0.'],
    [{ heatCapacityJK: 1e8 }, 'cooling.sink.heatCapacityJK: 100000000 does not fit; expected at most 10000000.'],
    [{ maxW: 0 }, 'cooling.sink.maxW: 0 does not fit; expected at least 0.1.'],
    [{ flow: 'fan' }, 'cooling.sink.flow: "fan" does not fit; expected "natural" or "forced".'],
  ])('%o is refused, with its place', (over, words) => expect(why(withSink({ ...rated, ...over }))).toEqual([words]))
  test('an entry of another kind of sink is refused', () => {
    expect(why(withSink({ ...rated, count: 3 }))).toEqual([
      expect.stringMatching(/^cooling\.sink\.count: no such entry/),
    ])
  })
})

test('what is missing is taken as typical, and reported', () => {
  const bare = wideArray()
  expect(coolingOf(bare).assumptions).toHaveLength(1)
  expect(powerOf(bare).assumptions[0]).toMatch(/^No supply is given: \d+ V that never sag/)
  expect(boardThermalOf(bare.boardTypes[0]!, bare.emitterTypes[0]!).assumptions[0]).toMatch(/typical metal-core board/)
  expect(coolingOf(gannet)).toEqual({ value: gannet.cooling, assumptions: [] })
  expect(readLamp({ ...bare, cooling: coolingOf(bare).value, power: powerOf(bare).value }).ok).toBe(true)
})

test('every example is a lamp that reads', () => {
  for (const make of Object.values(DEMOS)) expect(why(make())).toEqual([])
})
