// Lamps that would burn something, one for each rule and moment of power: each must give its finding among the findings' data, in the terminal's
// text, and beside the part in the wiring list as text, as CSV (which is also what is printed and shown: the same rows), or among what
// to buy.
import { describe, expect, test } from 'vitest'
import { findingsText } from '../../src/cli/findingsText.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Driver, Harness, Lamp, Mode, Pack, Power } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { powerOf } from '../../src/library/typicalPower.ts'
import { billOfMaterials, remarkWords, wiringCsv, wiringRows } from '../../src/report/wiringTable.ts'
import { lampWith, type Overrides } from '../kit/lampWith.ts'

/** Three boards of the example, at most 2 A, 21 V each; 10 cells in series, 6 side by side: 30 to 42 V. */
const base = (): Lamp => {
  const lamp = gannetHead()
  return { ...lamp, boards: lamp.boards.slice(0, 3) }
}
const power = base().power!
const pack = power.supply as Pack
const [driver] = power.drivers as [Driver]
const { harness } = power
const full: Mode = { id: 'turbo', name: 'Turbo', share: 1, stepDown: null }
const awg = (number: number) => ({ system: 'awg' as const, number })

const withPower = (over: Overrides<Power>, lamp = base()): Lamp => lampWith({ power: { modes: [full], ...over } }, lamp)
const withHarness = (over: Overrides<Harness>): Lamp => withPower({ harness: over })
const withDriver = (over: Partial<Driver>, rest: Overrides<Power> = {}): Lamp =>
  withPower({ drivers: [{ ...driver, ...over }], ...rest })
const withPack = (over: Partial<Pack>, rest: Overrides<Power> = {}): Lamp =>
  withPower({ supply: { ...pack, ...over }, ...rest })
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

/** What would burn, the lamp, the rule, and how its title begins. */
const LAMPS: readonly [what: string, lamp: () => Lamp, rule: string, title: RegExp][] = [
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
    /7 strings side by side may share unfairly: up to .* [4-9](\.\d+)? A\.$/,
  ],
  [
    'three boards side by side on one driver, 20 K apart',
    () => withDriver({ maxOutputA: 10 }, sideBySide),
    'strings-unbalanced',
    /^Group “All”: 3 boards side by side may share unfairly/,
  ],
  // Drivers.
  [
    '19 boards side by side on one driver of 3 A',
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
    /can only lift: in “Turbo” its input is as high/,
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
  // Fuses.
  [
    '15 A over a board’s lead of AWG 26',
    () => withHarness({ channel: { fuse: { amps: 15, volts: 58 } }, board: { gauge: awg(26) } }),
    'fuse-too-big',
    /^3 channel fuses of 15 A on AWG 20 and, after it, AWG 26, which may have 1 A at most\.$/,
  ],
  [
    '10 A on AWG 18, which may have 7 A',
    () =>
      withHarness({
        channel: { gauge: awg(18), fuse: { amps: 10, volts: 58 } },
        board: { gauge: awg(14) },
      }),
    'fuse-too-big',
    /^3 channel fuses of 10 A on AWG 18, which may have 7 A at most\.$/,
  ],
  [
    '15 A on AWG 16, which may have 10 A',
    () =>
      withHarness({
        channel: { gauge: awg(16), fuse: { amps: 15, volts: 58 } },
        board: { gauge: awg(14) },
      }),
    'fuse-too-big',
    /^3 channel fuses of 15 A on AWG 16, which may have 10 A at most\.$/,
  ],
  [
    'channels without a fuse behind a main fuse of 40 A',
    () => withHarness({ channel: { fuse: null } }),
    'fuse-too-big',
    /^1 main fuse of 40 A on AWG 8 and, after it, AWG 20, which may have 5 A at most\.$/,
  ],
  [
    'forty conductors in one bundle: less for the fuse as well',
    () => withHarness({ channel: { bundled: 40 } }),
    'fuse-too-big',
    /^3 channel fuses of 3 A on AWG 20, which may have 2 A at most\.$/,
  ],
  [
    'a main fuse sized by the emptiest moment: a driver draws most just before it sags',
    () => withPack({ series: 7, cutOffCellV: 2.5 }, { harness: { main: { fuse: { amps: 5, volts: 58 } } } }),
    'fuse-too-small',
    /^1 main fuse of 5 A for 5\.\d+ A that last\.$/,
  ],
  [
    'fuses for 38 V on a pack of 42 V that was entered at 40 % charge',
    () =>
      withPack(
        { charged: 0.4 },
        { harness: { main: { fuse: { amps: 40, volts: 38 } }, channel: { fuse: { amps: 3, volts: 38 } } } },
      ),
    'fuse-voltage',
    /^1 main fuse for 38 V on a supply of 42 V\.$/,
  ],
  [
    'a gG fuse of 50 A on AWG 8: it opens for sure at 80 A only, and 1.45 times 50 A are 72.5 A',
    () => withHarness({ main: { fuse: { amps: 50, volts: 80, kind: 'gG' } } }),
    'fuse-too-big',
    /^1 main fuse of 50 A on AWG 8, which may have 45\.3 A at most\.$/,
  ],
  [
    'glass fuses of 4 A on AWG 20, which bears 5 A: they carry 8.4 A for hours',
    () => withHarness({ channel: { fuse: { amps: 4, volts: 250, kind: 'miniature', breaksA: 1500 } } }),
    'fuse-too-big',
    /^3 channel fuses of 4 A on AWG 20, which may have 3\.45 A at most\.$/,
  ],
  [
    'glass fuses of unnamed breaking capacity',
    () => withHarness({ channel: { fuse: { amps: 3, volts: 250, kind: 'miniature' } } }),
    'fuse-breaking-capacity',
    /^3 channel fuses may have to break \d+ A and usually break 35 A\.$/,
  ],
  [
    'a gG fuse of 40 A carries 64 A for ever: 45 K · (64/50)² over 20 °C',
    () => withHarness({ main: { fuse: { amps: 40, volts: 80, kind: 'gG', breaksA: 25_000 } } }),
    'fuse-holds-overload',
    /^A main fuse of 40 A may carry 64 A for ever: AWG 8 then gets to 94 °C, its insulation bears 75 °C\.$/,
  ],
  [
    'the same on a supply that gives 60 A into a short circuit: no more is carried',
    () =>
      withPower({
        supply: { kind: 'fixed', name: 'Unit', volts: 36, milliohm: 10, maxA: 50, shortA: 60 },
        harness: { main: { fuse: { amps: 40, volts: 80, kind: 'gG', breaksA: 25_000 } } },
      }),
    'fuse-holds-overload',
    /^A main fuse of 40 A may carry 60 A for ever: AWG 8 then gets to 85 °C, its insulation bears 75 °C\.$/,
  ],
  [
    'a fixed supply of unknown short circuit, of 10 A, behind a main fuse of 40 A: sure from 54 A on',
    () => withPower({ supply: { kind: 'fixed', name: 'Unit', volts: 36, milliohm: 20, maxA: 10 } }),
    'short-circuit-unknown',
    /^What “Unit” gives into a short circuit is not known: whether the fuses can break it, and whether it opens them at all, is not judged\. If it limits itself to its 10 A, nothing opens the main fuse of 40 A, sure from 54 A on\.$/,
  ],
  [
    'cells without a resistance',
    () => withPack({ cellMilliohm: 0 }),
    'short-circuit-unknown',
    /^What “.*” gives into a short circuit is not known: .* is not judged\.$/,
  ],
  [
    'a supply that limits itself to 12 A never opens 40 A',
    () => withPower({ supply: { kind: 'fixed', name: 'Unit', volts: 36, milliohm: 20, maxA: 10, shortA: 12 } }),
    'fuse-never-opens',
    /^1 main fuse of 40 A: a short circuit at the wire’s end draws 12 A only, and may never open it\.$/,
  ],
  [
    'no resistance in the whole document: what charges 3 × 2200 µF is not known (½ C V² = 5.82 J at 42 V)',
    () =>
      withPower({
        drivers: [{ ...driver, inputMicrofarad: 2200 }],
        supply: { ...pack, cellMilliohm: 0 },
        harness: { main: { lengthMm: 0, connectors: 0 }, contactor: null },
      }),
    'inrush',
    /^What charges the drivers’ capacitors at switch-on can’t be computed: 6600 µF on 42 V, 5\.82 J, and no resistance/,
  ],
  ['no main fuse', () => withHarness({ main: { fuse: null } }), 'fuse-missing', /^The main run has no fuse\.$/],
  [
    'a short circuit of 4 kA on a blade fuse',
    () => withPack({ parallel: 24 }, { harness: { main: { fuse: { amps: 40, volts: 58, breaksA: 1000 } } } }),
    'fuse-breaking-capacity',
    /^1 main fuse may have to break 4040 A and can break 1000 A\.$/,
  ],
  [
    'a channel fuse of unnamed breaking capacity at the branching place',
    () => withPack({ parallel: 24 }, { harness: { main: { gauge: awg(0), lengthMm: 300 } } }),
    'fuse-breaking-capacity',
    /^3 channel fuses may have to break .* A and usually break 1000 A\.$/,
  ],
  [
    'a main fuse over what the pack bears',
    () => withPack({ parallel: 2, maxCellA: 10 }),
    'fuse-over-pack',
    /^The main fuse of 40 A is larger than what the pack may give, 20 A\.$/,
  ],
  [
    'a pack so weak that its short circuit does not open the main fuse',
    () => withPack({ parallel: 1, cellMilliohm: 100, maxCellA: 60 }),
    'fuse-never-opens',
    /^1 main fuse of 40 A: a short circuit at the wire’s end draws 29\.\d A only, and may never open it\.$/,
  ],
  [
    'a thin wire so long that a short circuit at its end does not open its fuse',
    () => withHarness({ channel: { gauge: awg(20), lengthMm: 100_000 } }),
    'fuse-never-opens',
    /^3 channel fuses of 3 A: a short circuit at the wire’s end draws 3\.\d+ A only/,
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
  test.each(LAMPS)('%s', (_, make, rule, title) => {
    const lamp = make()
    // Without a run of its modes: what the table alone knows.
    const report = runPower(lamp, { mode: '' })
    const findings = powerFindings(lamp, report)
    const found = findings.filter((f) => f.rule === rule)
    const own = found.find((f) => title.test(f.title))
    expect(own?.title ?? found.map((f) => f.title), rule).toMatch(title)
    if (!own) return
    expect(findingsText(findings).replace(/\s+/g, ' ')).toContain(own.title)
    const rows = wiringRows(report.wiring, powerOf(lamp).value, findings)
    const beside = [
      ...rows.flatMap((r) => r.remarks),
      ...billOfMaterials(report.wiring, powerOf(lamp).value, findings).flatMap((b) => b.remarks),
    ]
    expect(beside.map((r) => r.title)).toContain(own.title)
    const inRow = rows.some((r) => r.remarks.some((x) => x.title === own.title))
    if (inRow) expect(wiringCsv(rows)).toContain(remarkWords(own).replaceAll('"', '""'))
  })

  test('the lamp they are made from gives none of them', () => {
    const lamp = withPower({})
    const rules = powerFindings(lamp, runPower(lamp, { mode: '' })).map((f) => f.rule)
    const planted = new Set(LAMPS.map(([, , rule]) => rule))
    // 42 V is over 30 V; that stands.
    expect(rules.filter((r) => planted.has(r))).toEqual(['touch-voltage'])
  })
})
