// The power-up list from facts by hand, word for word.

import { describe, expect, test } from 'vitest'
import type { Power } from '../../src/lamp/schema.ts'
import { gannetPower } from '../../src/library/demoPower.ts'
import { allInSystem } from '../../src/num/quantity.ts'
import type { Channel } from '../../src/power/channels.ts'
import { makePowerUpList, tellsFaults, type WarmUp, type WarmUpBand } from '../../src/power/powerUp.ts'
import { listWiring } from '../../src/power/schedule.ts'
import { table, worstChannel } from '../kit/fakeWorst.ts'

const channel: Channel = {
  id: 'A',
  boards: [0],
  group: gannetPower.groups[0]!,
  driver: gannetPower.drivers[0]!,
  wired: 'each',
  alike: 1,
  lengthMm: 700,
  inOhm: 0,
  outOhm: 0,
  linksMm: [],
}
const band = (fromK: number, toK: number, twiceK: number, dryK: number): WarmUpBand => ({ fromK, toK, twiceK, dryK })
/** Sound: 4 and 6 K. */
const clear = (atS: number): WarmUp => ({ atS, plate: band(3, 5.54, 8, 3.2), board: band(4.4, 8.9, 12, 14.2) })
const vague = (atS: number): WarmUp => ({ atS, plate: band(0.1, 0.3, 0.4, 0.1), board: band(0.2, 0.5, 0.6, 0.7) })

function steps(over: { power?: Partial<Power>; warmUp?: WarmUp[]; done?: string[] } = {}) {
  const power = { ...gannetPower, ...over.power }
  const { worst, faults } = table({ channels: [worstChannel({ ids: ['A'] })] })
  const wiring = listWiring({ power, channels: [channel], boardNames: ['A'], worst, faults, airC: 20, plateC: null })
  return makePowerUpList({
    power,
    channels: [channel],
    wiring,
    volts: [{ lowV: 18.04, fullV: 21.5, lowA: 0.2, fullA: 2 }],
    warmUp: new Map([['A', over.warmUp ?? [clear(1), clear(5), clear(10), clear(60)]]]),
    done: over.done ?? [],
  })
}
const whatOf = (step: string, over = {}) => allInSystem(steps(over).find((s) => s.step === step)?.what, 'metric')

describe('the lamp as a whole', () => {
  test('steps in their order, keys by channel', () => {
    expect(steps().map((s) => [s.key, s.channel])).toEqual([
      ['lamp/supply apart', null],
      ['lamp/insulation', null],
      ['lamp/main fuse', null],
      ['lamp/eyes', null],
      ['A/continuity', 'A'],
      ['A/polarity', 'A'],
      ['A/fuse', 'A'],
      ['A/set-point', 'A'],
      ['A/low current', 'A'],
      ['A/after 1 s', 'A'],
      ['A/after 5 s', 'A'],
      ['A/after 10 s', 'A'],
    ])
    for (const s of steps()) expect(s.what).toMatch(/^[A-Z].{20,}\.$/s)
  })
  test('the fuse that an item is about', () => {
    expect(steps().flatMap((s) => (s.fuseOf === null ? [] : [`${s.key}: ${s.fuseOf}`]))).toEqual([
      'lamp/main fuse: main',
      'A/fuse: A in',
    ])
  })
  test('ticks by key', () => {
    const done = steps({ done: ['A/fuse', 'lamp/eyes', 'gone/fuse'] }).filter((s) => s.done)
    expect(done.map((s) => s.key)).toEqual(['lamp/eyes', 'A/fuse'])
  })
  test('fuses as the document has them, or that it names none', () => {
    expect(whatOf('main fuse')).toBe('The main fuse is 40 A for at least 58 V, at the supply’s own terminal.')
    expect(whatOf('fuse')).toBe('Its fuse is 3 A for 58 V.')
    const { harness } = gannetPower
    const bare = { ...harness, main: { ...harness.main, fuse: null }, channel: { ...harness.channel, fuse: null } }
    expect(whatOf('main fuse', { power: { harness: bare } })).toBe(
      'A main fuse is fitted at the supply’s own terminal (the design names none).',
    )
    expect(whatOf('fuse', { power: { harness: bare } })).toBe('A fuse is fitted (the design names none).')
  })
  test('numbers of the channel: 21.5 V at 2 A are 10.8 Ω and 43 W', () => {
    expect(whatOf('set-point')).toBe('On a dummy load of about 10.8 Ω and 43 W the driver gives 2 A.')
    expect(whatOf('low current')).toBe('Alone, at 0.2 A: about 18 V, every emitter of the board lit alike.')
    expect(whatOf('polarity')).toBe('Plus (white) goes to the board’s plus.')
  })
})

describe('several channels', () => {
  /** B has a fuse of 7 A in the wiring, C none, D no wiring at all. */
  function several(step: string) {
    const { worst, faults } = table({ channels: [worstChannel({ ids: ['A'] })] })
    const channels = ['A', 'B', 'C', 'D'].map((id) => ({ ...channel, id }))
    const facts = { power: gannetPower, boardNames: ['A'], worst, faults, airC: 20, plateC: null }
    const wiring = listWiring({ ...facts, channels: channels.slice(0, 3) }).map((w) =>
      w.part !== 'channel' || w.channel === 'A' ? w : { ...w, fuse: w.channel === 'B' ? { amps: 7, volts: 32 } : null },
    )
    const volts = channels.map((_, i) => ({ lowV: 18, fullV: 20, lowA: 0.2, fullA: i }))
    const all = makePowerUpList({ power: gannetPower, channels, wiring, volts, warmUp: new Map(), done: [] })
    return all.filter((s) => s.channel !== null && s.step === step).map((s) => s.what)
  }
  test('each has its own fuse; none without a wire in the list', () => {
    const none = 'A fuse is fitted (the design names none).'
    expect(several('fuse')).toEqual(['Its fuse is 3 A for 58 V.', 'Its fuse is 7 A for 32 V.', none, none])
    expect(several('polarity').slice(0, 3)).toEqual(Array(3).fill('Plus (white) goes to the board’s plus.'))
    expect(several('polarity')).toHaveLength(4)
  })
  test('boards of 0 A have nothing to set; the others 20 V over their own current', () => {
    expect(several('set-point')).toEqual([
      'Its boards have a current of 0 A: there is nothing to set before the design gives them one.',
      'On a dummy load of about 20 Ω and 20 W the driver gives 1 A.',
      'On a dummy load of about 10 Ω and 40 W the driver gives 2 A.',
      'On a dummy load of about 6.67 Ω and 60 W the driver gives 3 A.',
    ])
  })
})

describe('temperatures', () => {
  test('tenths of a kelvin under ten', () => {
    const reading = { atS: 1, plate: band(9.94, 10, 10.4, 10.6), board: band(0, 1, 99.5, 100) }
    expect(whatOf('after 1 s', { warmUp: [reading, clear(5)] })).toMatch(
      /beside the board 9\.9 to 10 K, .* emitters 0\.0 to 1\.0 K\. Twice the current would give 10 and 100 K, a dry joint 11 and 100 K/,
    )
  })
  test('a band for plate and board, and what each fault would give', () => {
    expect(whatOf('after 10 s')).toBe(
      'At full current, alone, 10 s after switch-on, over the start: plate beside the board 3.0 to 5.5 K, the board’s metal by its ' +
        'emitters 4.4 to 8.9 K. Twice the current would give 8.0 and 12 K, a dry joint 3.2 and 14 K. Outside either band: stop, and ' +
        'look for the fault.',
    )
  })
  test('a minute only where ten seconds do not tell a fault', () => {
    expect(whatOf('after 60 s')).toBeUndefined()
    expect(whatOf('after 60 s', { warmUp: [vague(1), vague(5), vague(10), clear(60)] })).toMatch(/60 s after switch-on/)
    expect(steps({ warmUp: [] }).some((s) => s.step.startsWith('after'))).toBe(false)
  })
  test.each<[string, WarmUp, boolean]>([
    ['both by the board', { atS: 1, plate: band(1, 2, 2.5, 1), board: band(1, 3, 4.1, 4.1) }, true],
    ['twice the current by the plate', { atS: 1, plate: band(1, 2, 3.1, 1), board: band(1, 3, 3.5, 4.1) }, true],
    ['a dry joint by a slower plate', { atS: 1, plate: band(3, 5, 7, 1.9), board: band(1, 3, 3.5, 3.2) }, true],
    ['twice the current by less than 1 K', { atS: 1, plate: band(1, 2, 3, 1), board: band(1, 3, 4, 4.1) }, false],
    ['a dry joint by less than 1 K', { atS: 1, plate: band(2, 4, 6, 1), board: band(1, 3, 4.1, 4) }, false],
  ])('%s: %s', (_, reading, tells) => expect(tellsFaults(reading)).toBe(tells))
  test('no reading tells nothing', () => expect(tellsFaults(undefined)).toBe(false))
})
