// The wiring list and the power-up list.
import { describe, expect, test } from 'vitest'
import type { PowerReport } from '../../src/electrothermal/result.ts'
import { runPower } from '../../src/job/power/run.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead, iceRink } from '../../src/library/demos.ts'
import { channelsOf } from '../../src/power/channels.ts'
import { expectWithin } from '../kit/expect.ts'

const made = new Map<string, PowerReport>()
/** Of each lamp once, in the first test that needs it. */
function listsOf(lamp: Lamp): PowerReport {
  const key = JSON.stringify(lamp)
  const report = made.get(key) ?? runPower(lamp, { mode: '' })
  made.set(key, report)
  return report
}

describe('wiring', () => {
  const lamp = gannetHead()
  const wiringOf = () => listsOf(lamp).wiring
  test('one main run, two for each channel, in the order of the boards', () => {
    const wiring = wiringOf()
    expect(wiring.map((w) => w.id).slice(0, 4)).toEqual(['main', 'B1 in', 'B1 out', 'B2 in'])
    expect(wiring).toHaveLength(1 + 2 * 19)
  })
  test('currents at the emptiest supply: 7 emitters cold at 2 A over 93 % and 30 V; Kirchhoff at the branching place', () => {
    const wiring = wiringOf()
    const main = wiring[0]!
    const inward = wiring.filter((w) => w.part === 'channel')
    expectWithin(
      main.amps,
      inward.reduce((sum, w) => sum + w.amps, 0),
      { rel: 1e-9, because: 'what goes in comes out' },
    )
    // 2.99 V · 1.0436 at 20 °C; the wires on both sides add a few per cent.
    expectWithin(inward[0]!.amps, (7 * 2.99 * 1.0436 * 2) / 0.93 / 30, { rel: 0.03, because: 'the wires’ own drop' })
    expectWithin(wiring[2]!.amps, 2, { rel: 1e-9, because: 'the boards’ own current' })
  })
  test('drop and loss are amps times the pair’s resistance, as warm as its insulation', () => {
    const wiring = wiringOf()
    for (const w of wiring) expectWithin(w.lossW, w.dropV * w.amps, { rel: 1e-12, because: 'P = V I' })
    // AWG 20 at 75 °C: 33.308 Ω/km · 1.21615, 0.6 m and back, two contacts of 1 mΩ.
    expectWithin(wiring[1]!.dropV / wiring[1]!.amps, 0.033308 * 1.21615 * 1.2 + 0.002, {
      rel: 1e-4,
      because: 'printed digits',
    })
  })
  test('a length of its own for one channel', () => {
    const harness = { ...lamp.power!.harness, channelLengthMm: { B3: 900 } }
    const list = listsOf({ ...lamp, power: { ...lamp.power!, harness } }).wiring
    expect(list.find((w) => w.id === 'B3 in')!.lengthMm).toBe(900)
    expect(list.find((w) => w.id === 'B4 in')!.lengthMm).toBe(600)
  })
  test('functions look unlike, in words', () => {
    const wiring = wiringOf()
    const colours = new Set(wiring.flatMap((w) => [w.plus, w.minus]))
    expect(colours.size).toBe(4)
  })
})

test('channels: boards by group, in series or side by side under one driver', () => {
  const lamp = iceRink()
  expect(channelsOf(lamp, lamp.power!)).toHaveLength(10)
  const groups = lamp.power!.groups.map((g) => ({ ...g, wired: 'series' as const }))
  const two = channelsOf(lamp, { ...lamp.power!, groups })
  expect(two.map((c) => [c.id, c.boards.length])).toEqual([
    ['outer', 4],
    ['inner', 6],
  ])
})

describe('power-up list', () => {
  test('four steps for the lamp, eight for each channel; keys are all different; ticks come from the document', () => {
    const lamp: Lamp = { ...gannetHead(), powerUp: { done: ['B2/polarity', 'lamp/insulation', 'gone/fuse'] } }
    const { powerUp } = listsOf(lamp)
    expect(powerUp).toHaveLength(4 + 8 * 19)
    expect(new Set(powerUp.map((p) => p.key)).size).toBe(powerUp.length)
    expect(powerUp.filter((p) => p.done).map((p) => p.key)).toEqual(['lamp/insulation', 'B2/polarity'])
  })
  test('what to check, per channel, with this lamp’s figures', () => {
    const steps = listsOf(gannetHead()).powerUp.filter((p) => p.channel === 'B1')
    expect(steps.map((s) => s.step)).toEqual([
      'continuity',
      'polarity',
      'fuse',
      'set-point',
      'low current',
      'after 1 s',
      'after 5 s',
      'after 10 s',
    ])
    expect(steps[2]!.what).toBe('Its fuse is 3 A for 58 V.')
    // 7 · 3.12 V at 2 A.
    expect(steps[3]!.what).toMatch(/about 10\.9 Ω and 43\.7 W the driver gives 2 A/)
  })
})
