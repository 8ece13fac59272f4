// The wiring list from a table by hand: what each run carries, bears, loses, and which fuse answers for it.
import { describe, expect, test } from 'vitest'
import type { Harness, Power } from '../../src/lamp/schema.ts'
import { gannetPower } from '../../src/library/demoPower.ts'
import type { Channel } from '../../src/power/channels.ts'
import { listWiring, type WireRun, type WiringFacts } from '../../src/power/schedule.ts'
import { expectWithin } from '../kit/expect.ts'
import { point, table, worstChannel } from '../kit/fakeWorst.ts'

const PRINTED = { rel: 1e-4, because: 'printed digits of the wire' }
const awg = (number: number) => ({ system: 'awg' as const, number })
/** Ω/km at 20 °C (NBS Handbook 100), at 75 °C × 1.21615. */
const HOT = 1.21615
const OHM_M = { 10: 0.003277 * HOT, 18: 0.020948 * HOT, 20: 0.033308 * HOT }

const harness: Harness = {
  main: { gauge: awg(10), lengthMm: 2000, connectors: 2, fuse: { amps: 30, volts: 58 } },
  channel: { gauge: awg(18), lengthMm: 500, connectors: 1, fuse: { amps: 5, volts: 32, breaksA: 300 } },
  board: { gauge: awg(20), lengthMm: 100, connectors: 0 },
  connectorMilliohm: 3,
  insulationC: 75,
  allowedDrop: 0.03,
  contactor: null,
}
const channel = (over: Partial<Channel> = {}): Channel => ({
  id: 'A',
  boards: [0],
  group: { id: 'g', name: 'G', driver: 'buck', wired: 'each' },
  alike: 1,
  driver: gannetPower.drivers[0]!,
  wired: 'each',
  lengthMm: 700,
  inOhm: 0,
  outOhm: 0,
  linksMm: [],
  ...over,
})
const worst = table({
  fullV: 42,
  supplyA: point(21, { temperature: 'cold' }),
  lastingA: point(20, { mode: 'High', terminalV: 31 }),
  channels: [
    worstChannel({
      ids: ['A'],
      lastingInA: point(4, { mode: 'Low', terminalV: 33 }),
      inA: point(4.5),
      outA: point(3, { mode: 'Turbo', terminalV: 42 }),
    }),
  ],
}).worst
function list(over: Partial<Harness> = {}, facts: Partial<WiringFacts> = {}): WireRun[] {
  const power: Power = { ...gannetPower, harness: { ...harness, ...over } }
  return listWiring({
    power,
    channels: [channel()],
    boardNames: ['B1', 'B2', 'B3', 'B4'],
    worst,
    faults: { supplyA: 800, branchA: 600 },
    airC: 20,
    plateC: null,
    ...facts,
  })
}
const run = (id: string, over: Partial<Harness> = {}, facts: Partial<WiringFacts> = {}): WireRun =>
  list(over, facts).find((w) => w.id === id)!

describe('a run', () => {
  test('main: ends, the largest current that lasts and where, drop and loss out and back with two contacts each way', () => {
    const main = run('main')
    expect(main).toMatchObject({
      part: 'main',
      channel: null,
      group: null,
      from: gannetPower.supply.name,
      to: 'branching place (through fuse)',
      gaugeWords: 'AWG 10',
      lengthMm: 2000,
      conductors: 2,
      connectors: 2,
      amps: 20,
      mode: 'High',
      terminalV: 31,
      peakA: 21,
      bearsA: 35,
      airC: 20,
      insulationC: 75,
      bundled: 2,
      fuse: { amps: 30, volts: 58 },
      protectedBy: { amps: 30, volts: 58, at: 'main' },
      shortA: 800,
      plus: 'red',
      minus: 'black',
    })
    const ohm = 4 * OHM_M[10] + 4 * 0.003
    expectWithin(main.dropV, 20 * ohm, PRINTED)
    expectWithin(main.lossW, 400 * ohm, PRINTED)
    expect(run('main', { contactor: { maxA: 50, milliohm: 1 } }).to).toBe(
      'branching place (through fuse and contactor)',
    )
  })
  test('to a driver: the channel’s own length, the input’s currents', () => {
    const into = run('A in')
    expect(into).toMatchObject({
      part: 'channel',
      channel: 'A',
      group: 'g',
      from: 'branching place',
      to: 'driver A',
      lengthMm: 700,
      connectors: 1,
      amps: 4,
      mode: 'Low',
      terminalV: 33,
      peakA: 4.5,
      bearsA: 7,
      fuse: harness.channel.fuse,
      protectedBy: { amps: 5, volts: 32, breaksA: 300, at: 'channel' },
      shortA: 600,
      plus: 'red',
      minus: 'black',
    })
    expectWithin(into.dropV, 4 * (1.4 * OHM_M[18] + 2 * 0.003), PRINTED)
  })
  test('from a driver: the output’s current, colours of its own, no fuse, the channel’s answers for it', () => {
    expect(run('A out')).toMatchObject({
      part: 'board',
      from: 'driver A',
      to: 'board A',
      lengthMm: 100,
      amps: 3,
      mode: 'Turbo',
      terminalV: 42,
      peakA: 3,
      bearsA: 5,
      fuse: null,
      fuseRange: null,
      protectedBy: { at: 'channel' },
      plus: 'white',
      minus: 'brown',
    })
    expectWithin(run('A out').lossW, 9 * 0.2 * OHM_M[20], PRINTED)
  })
  test('a channel that the table does not know carries nothing', () => {
    const [, into, out] = list({}, { channels: [channel({ id: 'Z' })] })
    expect([into!.amps, into!.peakA, into!.mode, into!.terminalV, out!.amps, out!.peakA]).toEqual([0, 0, '', 42, 0, 0])
  })
})

describe('what it bears where it runs', () => {
  test('a lead that ends on the plate has the plate’s heat; the others the air’s', () => {
    // 5 A · √((75 − 60)/(75 − 30)); √((75 − 40)/45) in air of 40 °C.
    const hot = { airC: 40, plateC: 60 }
    expectWithin(run('A out', {}, hot).bearsA, 5 * Math.sqrt(15 / 45), { rel: 1e-12, because: 'by hand' })
    expectWithin(run('A in', {}, hot).bearsA, 7 * Math.sqrt(35 / 45), { rel: 1e-12, because: 'by hand' })
    expect([run('A out', {}, hot).airC, run('A in', {}, hot).airC, run('main', {}, hot).airC]).toEqual([60, 40, 40])
    expect(run('A out', {}, { airC: 40, plateC: 30 }).airC).toBe(40)
  })
  test('insulation of its own, and a bundle', () => {
    const board = { ...harness.board, insulationC: 200, bundled: 8 }
    expect(run('A out', { board }, { plateC: 120 })).toMatchObject({ insulationC: 200, bundled: 8, bearsA: 5 * 0.7 })
  })
})

describe('a fuse answers for every wire after it', () => {
  test('a channel’s: for the driver’s run and the board’s lead', () => {
    expect(run('A in').fuseRange).toEqual({ leastA: 5, mostA: 5, fitsA: 5 })
    expect(run('A in').weakest).toBe('AWG 20')
    const board = { ...harness.board, gauge: awg(26) }
    expect(run('A in', { board }).fuseRange).toEqual({ leastA: 5, mostA: 1, fitsA: null })
    expect(run('A in', { board }).weakest).toBe('AWG 26')
    // As weak as one another: its own is named.
    const alike = { ...harness.board, gauge: { system: 'mm2' as const, mm2: 0.9 } }
    expect(run('A in', { board: alike })).toMatchObject({ weakest: 'AWG 18', fuseRange: { mostA: 7 } })
    expect(run('A in', { board: { ...harness.board, gauge: awg(10) } })).toMatchObject({
      weakest: 'AWG 18',
      fuseRange: { mostA: 7 },
    })
  })
  test('the main fuse: for its own run alone where channels have fuses, else for all', () => {
    expect(run('main')).toMatchObject({ weakest: 'AWG 10', fuseRange: { leastA: 25, mostA: 30, fitsA: 25 } })
    const bare = { channel: { ...harness.channel, fuse: null } }
    expect(run('main', bare)).toMatchObject({ weakest: 'AWG 20', fuseRange: { leastA: 25, mostA: 5, fitsA: null } })
    expect(run('A in', bare)).toMatchObject({
      fuse: null,
      protectedBy: { amps: 30, at: 'main' },
      fuseRange: { mostA: 5 },
    })
    expect(run('A out', bare).protectedBy).toMatchObject({ at: 'main' })
    const none = { ...bare, main: { ...harness.main, fuse: null } }
    expect(list(none).map((w) => w.protectedBy)).toEqual([null, null, null])
  })
  test('a lead whose insulation does not bear the plate is judged by the air: that is a fault of its own', () => {
    expect(run('A out', {}, { plateC: 80 })).toMatchObject({ bearsA: 0, coolBearsA: 5 })
    expect(run('A in', {}, { plateC: 80 }).fuseRange!.mostA).toBe(5)
    expectWithin(run('A in', {}, { plateC: 60 }).fuseRange!.mostA, 5 * Math.sqrt(15 / 45), {
      rel: 1e-12,
      because: 'by hand',
    })
  })
})

describe('a short circuit at the wire’s end', () => {
  test('of a pack at its cut-off, 9 V, over cells, warm wires, contactor and the channel’s own; none behind a driver', () => {
    const facts = { channels: [channel({ inOhm: 0.5 })] }
    // 10 · 25 mΩ/6; 2 m and back of AWG 10, two contacts of 3 mΩ each way; 1 mΩ.
    const cells = 0.25 / 6
    const main = 4 * OHM_M[10] + 4 * 0.003
    const contactor = { maxA: 50, milliohm: 1 }
    const [whole, into, out] = list({ contactor }, facts)
    expectWithin(whole!.endShortA!, 9 / (cells + main + 0.001), PRINTED)
    expectWithin(into!.endShortA!, 9 / (cells + main + 0.001 + 0.5), PRINTED)
    expect(out!.endShortA).toBeNull()
    expectWithin(run('main', {}, facts).endShortA!, 9 / (cells + main), PRINTED)
  })
  test('of a fixed supply, or of nothing that resists: not known', () => {
    const fixed = { kind: 'fixed' as const, name: '', volts: 40, milliohm: 10, maxA: 5 }
    expect(list({}, { power: { ...gannetPower, harness, supply: fixed } })[0]!.endShortA).toBeNull()
    const bare = { ...harness, main: { ...harness.main, lengthMm: 0, connectors: 0 } }
    const pack = { ...gannetPower.supply, cellMilliohm: 0 } as Power['supply']
    expect(list({}, { power: { ...gannetPower, harness: bare, supply: pack } })[0]!.endShortA).toBeNull()
  })
})

describe('groups', () => {
  const group = (wired: 'series' | 'parallel', linksMm: number[]) => ({
    channels: [channel({ id: 'A', boards: [3, 1, 0], wired, linksMm, group: { ...channel().group, wired } })],
  })
  test('in series: one wire from board to board, and from the last back to the driver; all of the current', () => {
    const links = list({}, group('series', [40, 50, 60])).filter((w) => w.part === 'link')
    expect(links.map((w) => [w.id, w.from, w.to, w.lengthMm, w.conductors, w.amps])).toEqual([
      ['A link 1', 'board B4', 'board B2', 40, 1, 3],
      ['A link 2', 'board B2', 'board B1', 50, 1, 3],
      ['A link 3', 'board B1', 'driver A, its minus', 60, 1, 3],
    ])
    expectWithin(links[0]!.dropV, 3 * 0.04 * OHM_M[20], PRINTED)
    expect(links[0]).toMatchObject({ connectors: 0, gaugeWords: 'AWG 20', protectedBy: { at: 'channel' }, shortA: 600 })
    expect(run('A out', {}, group('series', [])).to).toBe('3 boards of A, in series')
  })
  test('side by side: pairs, each with what the boards after it take', () => {
    const links = list({}, group('parallel', [40, 50])).filter((w) => w.part === 'link')
    expect(links.map((w) => [w.to, w.conductors, w.amps, w.peakA])).toEqual([
      ['board B2', 2, 2, 2],
      ['board B1', 2, 1, 1],
    ])
    expectWithin(links[0]!.dropV, 2 * 0.08 * OHM_M[20], PRINTED)
  })
  test('on the plate: leads and links lie in its heat, in the colours of the emitters; the others in the air given', () => {
    const all = list({}, { ...group('series', [40, 50, 60]), plateC: 70 })
    expect(all.map((w) => [w.part, w.airC, w.plus])).toEqual([
      ['main', 20, 'red'],
      ['channel', 20, 'red'],
      ['board', 70, 'white'],
      ...Array(3).fill(['link', 70, 'white']),
    ])
    // A plate colder than the air given changes nothing.
    expect(list({}, { ...group('series', [40]), plateC: 10 }).map((w) => w.airC)).toEqual([20, 20, 20, 20])
  })
  test('boards without a name are counted', () => {
    const links = list({}, { ...group('series', [40, 50, 60]), boardNames: [] }).filter((w) => w.part === 'link')
    expect(links.map((w) => [w.from, w.to])).toEqual([
      ['board 1', 'board 2'],
      ['board 2', 'board 3'],
      ['board 3', 'driver A, its minus'],
    ])
  })
  test('links count for the channel’s fuse as well', () => {
    const facts = { ...group('parallel', [40, 50]), plateC: 60 }
    expect(run('A in', { board: { ...harness.board, bundled: 4 } }, facts).fuseRange!.mostA).toBeCloseTo(
      5 * 0.8 * Math.sqrt(15 / 45),
      9,
    )
  })
})
