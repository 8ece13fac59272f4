// Lamps that would burn something, one for each rule and moment of power: each must give its finding among the findings' data, in the terminal's
// text, and beside the part in the wiring list as text, as CSV (which is also what is printed and shown: the same rows), or among what
// to buy.
import { describe, expect, test } from 'vitest'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Lamp, Power } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import {
  awg,
  type Dangerous,
  driver,
  expectSaid,
  full,
  harness,
  pack,
  withDriver,
  withHarness,
  withPack,
  withPower,
} from '../kit/dangerousLamp.ts'
import { lampWith, type Overrides } from '../kit/lampWith.ts'

const sideBySide = { groups: [{ id: 'all', name: 'All', driver: 'buck', wired: 'parallel' as const }] }
const strings = (count: number, currentA: number, rest: Overrides<Power> = {}): Lamp => {
  const lamp = withPower(rest)
  return lampWith(
    {
      boardTypes: lamp.boardTypes.map((t) => ({ ...t, strings: count })),
      boards: lamp.boards.map((b) => ({ ...b, currentA })),
    },
    lamp,
  )
}

const LAMPS: readonly Dangerous[] = [
  // Emitters.
  [
    'a mode of four times the current drives 8 A through an emitter that bears 4 A',
    () => withDriver({ maxOutputA: 10 }, { modes: [{ ...full, share: 4 }] }),
    'emitter-over-current',
    /^“Turbo”: up to 8 A through each emitter of 3 channels \(B1 and more\), which bears 4 A/,
  ],
  [
    'a group’s own current in one mode, over the emitter’s',
    () => withDriver({ maxOutputA: 10 }, { modes: [{ ...full, groupA: { all: 5 } }] }),
    'emitter-over-current',
    /^“Turbo”: up to 5 A through each emitter/,
  ],
  [
    'seven strings on a board: the lowest takes more than it bears',
    () => strings(7, 3.8, { drivers: [{ ...driver, maxOutputA: 40 }] }),
    'strings-unbalanced',
    /7 strings in parallel may share unfairly: up to .* [4-9](\.\d+)? A\.$/,
  ],
  [
    'three boards in parallel on one driver, 20 K apart',
    () => withDriver({ maxOutputA: 10 }, sideBySide),
    'strings-unbalanced',
    /^Group “All”: 3 boards in parallel may share unfairly/,
  ],
  // Drivers.
  [
    '19 boards in parallel on one driver of 3 A',
    () => withPower(sideBySide, gannetHead()),
    'driver-output-too-small',
    /gives 3 A at most; its boards are meant to have 38 A in “Turbo”\.$/,
  ],
  [
    'a mode’s share above the driver’s rating',
    () => withPower({ modes: [{ ...full, share: 1.8 }] }),
    'driver-output-too-small',
    /gives 3 A at most; its boards are meant to have 3\.6 A/,
  ],
  [
    'drivers for 38 V on a pack of 42 V that was entered at 40 % charge',
    () => withDriver({ inputMaxV: 38 }, { supply: { ...pack, charged: 0.4 } }),
    'driver-input-too-high',
    /bears 38 V; the full supply gives 42 V\.$/,
  ],
  [
    'a step-up driver under a full pack as high as its hot boards',
    () => withDriver({ kind: 'boost', headroomV: 1 }, { supply: { ...pack, series: 5, charged: 0.3 } }),
    'driver-range',
    /can only step up: in “Turbo” its input is as high/,
  ],
  ['a driver that no charge brings to life', () => withDriver({ inputMinV: 45 }), 'driver-range', /gives nothing/],
  [
    'a driver whose light fades before the pack is empty, in a run that ends before',
    () => withPack({ series: 7, cutOffCellV: 2.9 }),
    'driver-sags',
    /can’t hold its current/,
  ],
  [
    'a driver that fails short: the channel’s fuse of 20 A holds what kills its emitters',
    () =>
      withPack(
        { series: 7, parallel: 1, cellMilliohm: 40 },
        { harness: { channel: { fuse: { amps: 20, volts: 58 } }, board: { gauge: awg(12) } } },
      ),
    'driver-short',
    /fails short puts .* A through an emitter that bears 4 A, and the channel fuse of 20 A stays whole/,
  ],
  [
    'the same without any fuse',
    () => withHarness({ main: { fuse: null }, channel: { fuse: null } }),
    'driver-short',
    /and no fuse opens\.$/,
  ],
  // Limits that nothing bears: they would silence every other finding on their part.
  [
    'cells that are said to bear 120 °C',
    () => withPack({ maxCellC: 120 }),
    'limit-implausible',
    /120 °C: 60 °C is usual/,
  ],
  [
    'cells of 3 Ah that are said to give 46 A: 15.3 times their capacity an hour',
    () => withPack({ maxCellA: 46 }),
    'limit-implausible',
    /^Cells of 3 Ah are entered to bear 46 A that last, 15\.3 times their capacity an hour\.$/,
  ],
  [
    'an emitter that is said to bear 186 °C',
    () => {
      const lamp = withPower({})
      return { ...lamp, emitterTypes: lamp.emitterTypes.map((e) => ({ ...e, maxJunctionC: 186 })) }
    },
    'limit-implausible',
    /is entered to bear a junction of 186 °C/,
  ],
  [
    'a driver that is said to lose nothing',
    () => withDriver({ efficiency: 1 }),
    'limit-implausible',
    /^Entered without a loss that such parts have: “.*” \(loses 0 %\)\.$/,
  ],
  [
    'a driver that lifts 8.4 V: a string that opens has more than its own 22 V',
    () => withDriver({ kind: 'boost', inputMinV: 5 }, { supply: { ...pack, series: 2, parallel: 20 } }),
    'boost-opens',
    /steps up: when the string of one of 3 channels opens, its output rises over the 22\.\d V of the string/,
  ],
  // Wires.
  [
    '2 A through AWG 26',
    () => withHarness({ board: { gauge: awg(26) } }),
    'wire-over-current',
    /^3 runs to a board: 2 A through AWG 26, which bears 1 A\.$/,
  ],
  [
    'a bundle of thirty conductors of AWG 22',
    () => withHarness({ channel: { gauge: awg(22), bundled: 30 } }),
    'wire-over-current',
    /^3 channel runs: 1\.\d+ A through AWG 22, which bears 1\.35 A\.$/,
  ],
  [
    'a wire in hot air',
    () => lampWith({ reading: { ambientC: 70 } }, withHarness({ channel: { gauge: awg(22) } })),
    'wire-over-current',
    /channel runs: .* through AWG 22, which bears 1 A\.$/,
  ],
  [
    'a link between boards in series that its gauge does not bear',
    () =>
      withDriver(
        { kind: 'boost', inputMaxV: 60 },
        {
          groups: [{ id: 'all', name: 'All', driver: 'buck', wired: 'series' }],
          harness: { board: { gauge: awg(26) } },
        },
      ),
    'wire-over-current',
    /^3 links between boards: 2 A through AWG 26, which bears 1 A\.$/,
  ],
  [
    'air as hot as the insulation bears',
    () => lampWith({ reading: { ambientC: 60 } }, withHarness({ insulationC: 60 })),
    'insulation-over-place',
    /^4 wires with insulation for 60 °C in air of 60 °C\.$/,
  ],
  [
    'wires so long that they cost a tenth',
    () => withHarness({ channel: { lengthMm: 20_000 } }),
    'drop-over-limit',
    /^The wires cost /,
  ],
  // Contactor, connectors, capacitors.
  [
    'a contactor for less than what lasts',
    () => withHarness({ contactor: { maxA: 4 } }),
    'contactor-over-current',
    /^The contactor is rated 4 A; 4\.\d+ A pass it\.$/,
  ],
  [
    'a contactor for 24 V DC on 42 V',
    () => withHarness({ contactor: { maxV: 24 } }),
    'contactor-voltage',
    /^The contactor breaks 24 V DC; the full supply gives 42 V\.$/,
  ],
  [
    'a contactor that can’t break the cold start',
    () => withHarness({ contactor: { breaksA: 4.8 } }),
    'contactor-breaking-capacity',
    /^The contactor can break 4\.8 A; it may have to break 4\.\d+ A\.$/,
  ],
  [
    'all drivers charge at once through the contactor',
    () => {
      const lamp = withDriver({ inputMicrofarad: 1000 })
      const { prechargeOhm: _, ...contactor } = harness.contactor!
      return { ...lamp, power: { ...lamp.power!, harness: { ...lamp.power!.harness, contactor } } }
    },
    'inrush',
    /^When the contactor closes, up to 83\d A charge the drivers’ capacitors; its contacts bear 200 A/,
  ],
  [
    'connectors for 1 A in runs of 1.6 A',
    () => withHarness({ connectorMaxA: 1 }),
    'connector-over-current',
    /^4 runs with connectors for 1 A; up to 4\.\d+ A pass them\.$/,
  ],
  [
    'connectors for 24 V on 42 V',
    () => withHarness({ connectorMaxV: 24 }),
    'connector-voltage',
    /^Connectors for 24 V carry up to 42 V\.$/,
  ],
  // The pack.
  [
    'cells over their current in a run that ends hot before',
    () =>
      withPack({ parallel: 1, maxCellA: 4.8 }, { harness: { main: { fuse: { amps: 4, volts: 58, breaksA: 2000 } } } }),
    'pack-over-current',
    /^“Turbo” draws up to 4\.\d+ A from a supply that may give 4\.8 A\.$/,
  ],
  [
    'a fixed supply over its current',
    () => withPower({ supply: { kind: 'fixed', name: 'Unit', volts: 36, milliohm: 10, maxA: 3, shortA: 5 } }),
    'pack-over-current',
    /^“Turbo” draws up to .* A from a supply that may give 3 A\.$/,
  ],
  ['lithium cells emptied to 2 V', () => withPack({ cutOffCellV: 2 }), 'cell-cut-off-low', /emptied to 2 V each/],
  [
    'the cut-off of another chemistry',
    () => withPack({ chemistry: 'nimh' }),
    'cell-cut-off-high',
    /cut off at 3 V each and have 1\.42 V when full/,
  ],
  ['a pack at −30 °C', () => withPower({ coldestC: -30 }), 'pack-cold', /^Switched on at −30 °C/],
  ['a lithium pack charged in frost', () => withPower({ coldestC: -5 }), 'pack-cold', /must not be charged under 0 °C/],
  [
    'a protection board that cuts off in use',
    () => withPack({ protectionA: 4.8 }),
    'protection-over-current',
    /^“Turbo” draws up to 4\.\d+ A; the protection board lets 4\.8 A through\.$/,
  ],
  [
    'a protection board over the cells’ own limit',
    () => withPack({ protectionA: 70 }),
    'protection-over-pack',
    /^The protection board lets 70 A through; the cells may give 60 A\.$/,
  ],
  [
    'a pack of 63 V, entered half empty',
    () => withPack({ series: 15, charged: 0.3 }, { drivers: [{ ...driver, inputMaxV: 80 }] }),
    'touch-voltage',
    /^Up to 63 V DC on bare contacts .* over the 60 V that are safe to touch dry\.$/,
  ],
  [
    'a string of 67 V from a driver that lifts',
    () =>
      withDriver(
        { kind: 'boost', inputMaxV: 60 },
        { groups: [{ id: 'all', name: 'All', driver: 'buck', wired: 'series' }] },
      ),
    'touch-voltage',
    /^Up to 6\d(\.\d)? V DC on bare contacts \(strings 6\d(\.\d)? V, full supply 42 V\)/,
  ],
]

describe('each dangerous lamp gives its finding, as data, in words, and beside its part', () => {
  test.each(LAMPS)('%s', (_, make, rule, title) => expectSaid(make, rule, title))

  test('the lamp they are made from gives none of them', () => {
    const lamp = withPower({})
    const rules = powerFindings(lamp, runPower(lamp, { mode: '' })).map((f) => f.rule)
    const planted = new Set(LAMPS.map(([, , rule]) => rule))
    // 42 V is over 30 V; that stands.
    expect(rules.filter((r) => planted.has(r))).toEqual(['touch-voltage'])
  })
})
