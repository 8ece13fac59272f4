// Lamps whose fuses would not save them, one for each rule: as in dangerousPower.test.ts.
import { describe, expect, test } from 'vitest'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import {
  awg,
  type Dangerous,
  driver,
  expectSaid,
  pack,
  withHarness,
  withPack,
  withPower,
} from '../kit/dangerousLamp.ts'

const LAMPS: readonly Dangerous[] = [
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
  [
    'glass fuses for 250 V, which are alternating, on 42 V DC',
    () => withHarness({ channel: { fuse: { amps: 3, volts: 250, kind: 'miniature', breaksA: 1500 } } }),
    'fuse-voltage',
    /^3 channel fuses of a kind whose 250 V are mostly alternating, on 42 V DC\.$/,
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
]

describe('each dangerous fuse gives its finding, as data, in words, and beside its part', () => {
  test.each(LAMPS)('%s', (_, make, rule, title) => expectSaid(make, rule, title))
  test('the lamp they are made from gives none of them', () => {
    const lamp = withPower({})
    const rules = powerFindings(lamp, runPower(lamp, { mode: '' })).map((f) => f.rule)
    const planted = new Set(LAMPS.map(([, , rule]) => rule))
    expect(rules.filter((r) => planted.has(r))).toEqual([])
  })
})
