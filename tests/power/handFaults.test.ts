// What small faults put in by hand got past: wires between two columns of the table, groups of boards behind wires of their own, modes with every
// group on, a load that is largest between full and empty. By hand.
import { describe, expect, test } from 'vitest'
import type { Driver, Group, Harness, Mode, Pack, Power } from '../../src/lamp/schema.ts'
import { gannetPower } from '../../src/library/demoPower.ts'
import type { Channel } from '../../src/power/channels.ts'
import { inrushOf } from '../../src/power/fault.ts'
import { listWiring } from '../../src/power/schedule.ts'
import type { Source } from '../../src/power/supply.ts'
import { groupNeeds } from '../../src/power/switching.ts'
import { ampacityA } from '../../src/power/wire.ts'
import { makeWorstCase, type WorstChannelInput, type WorstInput } from '../../src/power/worstCase.ts'
import { expectWithin } from '../kit/expect.ts'
import { point, table, worstChannel } from '../kit/fakeWorst.ts'

const awg = (number: number) => ({ system: 'awg' as const, number })
const PRINTED = { rel: 1e-4, because: 'printed digits of the wire' }
/** AWG 10, out and back over a metre: 3.277 Ω/km at 20 °C (NBS Handbook 100), × 1.21615 at 75 °C; and 10 mΩ of a relay. */
const [COOL_OHM, WARM_OHM] = [2 * 3.277e-3 + 0.01, 2 * 3.277e-3 * 1.21615 + 0.01]
const group: Group = {
  ...{ id: 'g', name: 'G', driver: 'buck', wired: 'each' },
  relay: { maxA: 20, milliohm: 10 },
  feed: { gauge: awg(10), lengthMm: 1000, connectors: 0, fuse: null },
}
const harness: Harness = {
  main: { gauge: awg(10), lengthMm: 0, connectors: 0, fuse: null },
  channel: { gauge: awg(18), lengthMm: 0, connectors: 0, fuse: null },
  board: { gauge: awg(20), lengthMm: 100, connectors: 0 },
  ...{ connectorMilliohm: 3, insulationC: 75, allowedDrop: 0.03, contactor: null },
}
/** 12 · 20 mΩ/4 = 60 mΩ, 50.4 V full. */
const pack: Pack = { ...(gannetPower.supply as Pack), series: 12, parallel: 4, cellMilliohm: 20 }
const power: Power = { ...gannetPower, supply: pack, harness, groups: [group] }
const channel = (over: Partial<Channel> = {}): Channel => ({
  ...{ id: 'A', boards: [0], group, alike: 3, driver: gannetPower.drivers[0]!, wired: 'each', lengthMm: 0 },
  ...{ inOhm: 0, outOhm: 0, linksMm: [], ...over },
})

test('insulation of 70 °C has the column of 60 °C, of 89 °C that of 75 °C: the table names no more (NEC 310.16, second-hand)', () => {
  expect([60, 70, 74.9, 75, 89, 90].map((c) => ampacityA(awg(12), c))).toEqual([20, 20, 20, 25, 25, 30])
})

describe('a group behind wires and a relay of its own', () => {
  test('its capacitors charge through cool wires: 50.4 V over 60 mΩ of cells and 16.55 mΩ', () => {
    expectWithin(inrushOf(power, ['buck'], group).peakA!, 50.4 / (0.06 + COOL_OHM), PRINTED)
  })
  test('its relay is rated for five quarters of what lasts: 8 A takes 10 A, 8.01 A the next', () => {
    const rated = (amps: number) => {
      const { worst } = table({ groups: [{ id: 'g', peakA: point(9), lastingA: point(amps) }] })
      return groupNeeds(power, [channel()], worst)[0]!.ratingA
    }
    expect([rated(8), rated(8.01)]).toEqual([10, 12.5])
  })
  test('a short circuit in one of three channels meets the group’s resistance once, warm', () => {
    const { worst, faults } = table({ emptyV: 36, channels: [worstChannel({ ids: ['A'] })] })
    const own = channel({ inOhm: 0.1 + 3 * WARM_OHM })
    const runs = listWiring({ power, channels: [own], boardNames: ['B1'], worst, faults, airC: 20, plateC: null })
    const into = runs.find((w) => w.id === 'A in')!
    expectWithin(into.endShortA!, 36 / (0.06 + 0.1 + WARM_OHM), PRINTED)
  })
})

test('a plate that gets five kelvin hotter when left on says so of each lead on it', () => {
  const { worst, faults } = table({ channels: [worstChannel({ ids: ['A'] })] })
  const facts = { power, channels: [channel()], boardNames: ['B1'], worst, faults, airC: 20, plateC: 60 }
  const leftOn = (leftOnC: number) =>
    listWiring({ ...facts, leftOnC }).map((w) => (w.part === 'board' ? w.leftOnC : (w.leftOnC ?? 'in the air')))
  expect(leftOn(65).at(-1)).toBe(65)
  expect(leftOn(60).at(-1)).toBeNull()
  expect(leftOn(65)[0]).toBe('in the air')
})

describe('the worst case', () => {
  const driver: Driver = {
    ...{ id: 'd', name: '', kind: 'buck', inputMinV: 5, inputMaxV: 60, headroomV: 2, efficiency: 0.9 },
    ...{ maxOutputA: 10, dimming: 'current' },
  }
  /** 36 V full, cut off at 24 V. */
  const source: Source = {
    ...{ openV: (q) => 24 + 12 * q, ohm: 0, maxA: 100, shortA: null, cutOffV: 24, capacityC: 3600, charged: 1 },
    ...{ heatJK: 1, maxCellC: 60 },
  }
  const full: Mode = { id: 'full', name: 'Full', share: 1, stepDown: null }
  const find = (channels: { wantedA: number; boardV: number }[], over: Partial<WorstInput> = {}) => {
    const inputs = channels.map(
      ({ wantedA }, i): WorstChannelInput => ({
        ...{ id: `${i}`, key: `${i}`, group: 'g', driver, strings: 1, maxEmitterA: 3, inOhm: 0, outOhm: 0 },
        wantedA: (m) => wantedA * m.share,
        ...{ faultV: (a) => 20 + a, stringV: (a) => 10 + a, lower: 0 },
      }),
    )
    return makeWorstCase({
      ...{ source, mainOhm: 0, celsius: { cold: -20, air: 20, hot: 140 }, modes: [full], welded: [] },
      channels: inputs,
      requests: (m) =>
        inputs.map((c, i) => ({
          ...{ driver, outA: c.wantedA(m), duty: 1, inOhm: 0, outOhm: 0, tripped: false },
          boardV: () => channels[i]!.boardV,
        })),
      ...over,
    })
  }
  test('a string of 31 V needs 33 V: just over it 10 A · 31 V/0.9 are drawn, under it nothing; a weak one draws on to cut-off', () => {
    const w = find([
      { wantedA: 10, boardV: 31 },
      { wantedA: 0.1, boardV: 10 },
    ])
    const weakA = (0.1 * 10) / 0.9 / 33
    expectWithin(w.supplyA.value, (10 * 31) / 0.9 / 33 + weakA, {
      rel: 2e-3,
      because: 'so close to the edge is looked',
    })
    expectWithin(w.supplyA.terminalV, 33, { rel: 2e-3, because: 'so close to the edge is looked' })
  })
  test('with every group on the emitters get twice as much; of the supply it is for the fuses to say', () => {
    const half: Mode = { ...full, share: 0.5 }
    const w = find([{ wantedA: 2, boardV: 18 }], { modes: [half], welded: [full] })
    const [c] = w.channels
    expect([c!.outA.value, c!.emitterA.value, c!.unevenA.value, c!.outW.value]).toEqual([2, 2, 2, 36])
    expectWithin(w.supplyA.value, (1 * 18) / 0.9 / 24, { rel: 1e-6, because: 'by hand' })
    expectWithin(c!.inA.value, (1 * 18) / 0.9 / 24, { rel: 1e-6, because: 'by hand' })
  })
})
