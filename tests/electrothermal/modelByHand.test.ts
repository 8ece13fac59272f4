// What a lamp is made ready to, and what its drivers and boards do at given temperatures: each figure worked out by hand.
import { describe, expect, test } from 'vitest'
import {
  conductancesAt,
  makeDriverRequest,
  makeModel,
  type PowerModel,
  wantedA,
  wantedOutputA,
} from '../../src/electrothermal/model.ts'
import { spreadingResistance } from '../../src/heat/spreading.ts'
import type { Lamp, Mode } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { AIR_C, coarse, fewCells, lumped, ON, stateAt, TWO_HALVES } from '../kit/fewCells.ts'

const HAND = { rel: 1e-9, because: 'by hand' }
const boardOf = (lamp: Lamp) => coarse(lamp).boards[0]!
const NO_TRACE = 'No trace was given: light that comes back to the face or ends on the wall is not counted.'

describe('a board made ready', () => {
  test('its joint is spread over its area, its emitters hang on strings, and it knows its channel and group', () => {
    const lamp = fewCells({ sites: 6, strings: 2, emitter: { maxJunctionC: 140 } })
    const joint = {
      ...lamp,
      boardTypes: lamp.boardTypes.map((t) => ({ ...t, thermal: { padKW: 2, jointKcm2W: 0.4 } })),
    }
    const board = boardOf(joint)
    // 20 cm × 20 cm = 400 cm²; 0.5 K/W of the emitter and 2 K/W of its pad in a row.
    expectWithin(board.jointKW, 0.4 / 400, HAND)
    expectWithin(board.chainKW, 2.5, HAND)
    expect(board).toMatchObject({ emitters: 6, strings: 2, series: 3, channel: 0, group: 'g', ownA: 4 })
    expect(board).toMatchObject({ maxJunctionC: 140, index: 0, id: 'B1' })
  })
  test('of two groups each board goes to its own, and to the first where it names none', () => {
    const lamp = fewCells({ ...TWO_HALVES, boards: [{ xMm: -50, group: 'h' }, { xMm: 50 }] })
    const power = lamp.power!
    const groups = [power.groups[0]!, { ...power.groups[0]!, id: 'h' }]
    const { boards } = coarse({ ...lamp, power: { ...power, groups } })
    // Channels come in the order of the groups: that of B2 first.
    expect(boards.map((b) => [b.group, b.channel])).toEqual([
      ['h', 1],
      ['g', 0],
    ])
  })
  test('without thermal data: 0.1 mm at 2 W/mK under the emitter, and its spreading in 1.5 mm of aluminium', () => {
    const typical = (bodyMm: number, boardMm: [number, number], sites: number) => {
      const lamp = fewCells({ boardMm, sites, emitter: { bodyMm } })
      const bare = { ...lamp, boardTypes: lamp.boardTypes.map(({ thermal: _, ...t }) => t) }
      return { board: boardOf(bare), pad: 0.5 + 0.1e-3 / (2 * (bodyMm / 1000) ** 2) }
    }
    // A body of 100 mm on its own 100 mm of board has nothing to spread into: with one emitter, and with two on twice the board.
    for (const [boardMm, sites] of [
      [[100, 100], 1],
      [[200, 100], 2],
    ] as [[number, number], number][]) {
      const { board, pad } = typical(100, boardMm, sites)
      expectWithin(board.chainKW, pad, HAND)
    }
    const { board, pad } = typical(10, [200, 100], 2)
    // Discs of the same areas: r = 10 mm/√π in 100 mm/√π; 0.3 K·cm²/W below is a film of 33 333 W/m²K.
    const { meanKW } = spreadingResistance({
      sourceM: 0.01 / Math.sqrt(Math.PI),
      plateM: 0.1 / Math.sqrt(Math.PI),
      thicknessM: 0.0015,
      conductivityWmK: 160,
      film: 1 / 0.3e-4,
    })
    expect(meanKW).toBeGreaterThan(0.05)
    expectWithin(board.chainKW, pad + meanKW, HAND)
    expectWithin(board.jointKW, 0.3 / 200, HAND)
  })
})

describe('a lamp made ready', () => {
  test('light that stays: a trace’s as it is; without one what collimators lose, nothing of bare emitters', () => {
    const lamp = fewCells()
    const traced = { face: 0.02, optics: 0.1, wall: 0.3, traced: true }
    const own = coarse(lamp, traced)
    expect(own.retained).toBe(traced)
    expect(own.assumed).toEqual([])
    const none = coarse(lamp)
    expect(none.retained).toEqual({ face: 0, optics: 0, wall: 0, traced: false })
    expect(none.assumed).toEqual([NO_TRACE])
    const shape = { exitDiameterMm: 20, heightMm: 10, fwhmDeg: 10, shape: 'cosine' as const }
    const collimator = { kind: 'collimator' as const, id: 'c', name: 'C', efficiency: 0.85, ...shape }
    const optic = coarse({ ...lamp, opticTypes: [...lamp.opticTypes, collimator], optic: 'c' }).retained.optics
    expectWithin(optic, 0.15, HAND)
    // A collimator that the lamp doesn't wear costs nothing; an optic without an entry neither.
    expect(coarse({ ...lamp, opticTypes: [...lamp.opticTypes, collimator] }).retained.optics).toBe(0)
    expect(coarse({ ...lamp, optic: 'unknown' }).retained.optics).toBe(0)
  })
  test('what the document leaves out is listed once: board, cooling and supply', () => {
    const { cooling: _, power: __, ...lamp } = fewCells({ ...TWO_HALVES })
    const bare = { ...lamp, boardTypes: lamp.boardTypes.map(({ thermal: ___, ...t }) => t) }
    const { assumed } = coarse(bare as Lamp)
    expect(assumed).toHaveLength(4)
    expect(assumed.join(' ')).toMatch(/No cooling .* No supply .* typical metal-core board .* No trace was given/)
  })
  test('main wires: two contacts of 5 mΩ, 30 mΩ of contactor; the plate weighs 1.08 kg', () => {
    const lamp = fewCells()
    const power = lamp.power!
    const main = { ...power.harness.main, connectors: 1 }
    const harness = { ...power.harness, main, connectorMilliohm: 5, contactor: { maxA: 50, milliohm: 30 } }
    const model = coarse({ ...lamp, power: { ...power, harness } })
    expectWithin(model.mainOhm, 0.04, HAND)
    expectWithin(coarse(lamp).mainOhm, 0, { abs: 0, because: 'wires of nothing' })
    expectWithin(model.plateKg, 0.2 ** 2 * 0.01 * 2700, HAND)
    expect(model.ambientC).toBe(AIR_C)
    expect(model.protection).toBeNull()
    const cutOut = { openC: 60 }
    expect(coarse({ ...lamp, power: { ...power, protection: { cutOut } } }).protection).toEqual({ cutOut })
  })
  test('conductances and the fins’ store go by the plate’s 0.04 m²', () => {
    const model = lumped(fewCells())
    const temperatures: number[] = []
    const at = (c: number) => {
      temperatures.push(c)
      return { base: 0.2, link: 0.4, fin: 0.8 }
    }
    const areal = conductancesAt({ ...model, sink: { ...model.sink, finHeatJK: 100, at } }, 55)
    for (const [value, expected] of [
      [areal.base, 5],
      [areal.link, 10],
      [areal.fin, 20],
      [areal.finStored, 2500],
    ] as const)
      expectWithin(value, expected, HAND)
    expect(temperatures).toEqual([55])
  })
})

describe('currents that a mode wants', () => {
  const mode = (over: Partial<Mode>): Mode => ({ ...ON, ...over })

  test('the mode’s share of the board’s own, or its group’s current; times what is left after a step-down', () => {
    const board = boardOf(fewCells())
    expect(wantedA(board, ON, 1)).toBe(4)
    expectWithin(wantedA(board, mode({ share: 0.25 }), 0.5), 0.5, HAND)
    expectWithin(wantedA(board, mode({ share: 0.25, groupA: { g: 3 } }), 0.5), 1.5, HAND)
    expectWithin(wantedA(board, mode({ share: 0.25, groupA: { other: 3 } }), 1), 1, HAND)
  })
  test('of a driver: every string side by side; in series those of the first board', () => {
    const out = (wired: 'each' | 'series' | 'parallel') => {
      const model = coarse(fewCells({ ...TWO_HALVES, sites: 6, strings: 3, wired }))
      return model.channels.map((c) => wantedOutputA(model, ON, c))
    }
    expect(out('each')).toEqual([12, 12])
    expect(out('series')).toEqual([12])
    expect(out('parallel')).toEqual([24])
  })
  test('in pulses the full current stands while it is on, and more where the mode asks for more', () => {
    const model = coarse(fewCells({ driver: { dimming: 'pulse width' } }))
    const [c] = model.channels
    expect(wantedOutputA(model, mode({ share: 0.25 }), c!)).toBe(4)
    expect(wantedOutputA(model, mode({ share: 1.25 }), c!)).toBe(5)
    expect(wantedOutputA(model, ON, c!, 0.5)).toBe(4)
    const steady = coarse(fewCells())
    expect(wantedOutputA(steady, mode({ share: 0.25 }), steady.channels[0]!)).toBe(1)
    expect(wantedOutputA(steady, ON, steady.channels[0]!, 0.5)).toBe(2)
  })
})

describe('what a driver is set to', () => {
  const request = (model: PowerModel, mode: Mode = ON, over: Parameters<typeof stateAt>[2] = {}, at = AIR_C) =>
    makeDriverRequest(model, mode, stateAt(model, at, over), model.channels[0]!, 0)
  /** 2.8 V + 0.05 Ω from 2 to 6 A; 1 % less for each 10 K over 20 °C. */
  const straight = {
    forward: [
      { currentA: 2, volts: 2.9 },
      { currentA: 6, volts: 3.1 },
    ],
    forwardByJunction: [
      { junctionC: 20, factor: 1 },
      { junctionC: 120, factor: 0.9 },
    ],
  }

  test('no more than it can give; its mode’s duty; its wires; off once it has let go', () => {
    const model = coarse(fewCells({ driver: { dimming: 'pulse width' } }))
    expect(request(model)).toMatchObject({ outA: 4, duty: 1, inOhm: 0, outOhm: 0, tripped: false })
    expectWithin(request(model, { ...ON, share: 0.25 }).duty, 0.25, HAND)
    expectWithin(request(model, ON, { share: 0.5 }).duty, 0.5, HAND)
    expect(request(model, { ...ON, share: 2 })).toMatchObject({ outA: 5, duty: 1 })
    expect(request(model, ON, { tripped: new Set([0]) }).tripped).toBe(true)
    const none = coarse(fewCells({ driver: { dimming: 'pulse width' }, boards: [{ currentA: 0 }] }))
    expect(request(none)).toMatchObject({ outA: 0, duty: 1 })
    const dimmed = request(coarse(fewCells()), { ...ON, share: 0.25 })
    expect(dimmed).toMatchObject({ outA: 1, duty: 1 })
  })
  test('volts of one board: three in series, each with half of the current of two strings, at its junction', () => {
    const model = coarse(fewCells({ sites: 6, strings: 2, emitter: straight }))
    const { boardV } = request(model, ON, {}, 70)
    // 8 A are 4 A a string: 3 V · 0.95; 10 A are 5 A: 3.05 V.
    expectWithin(boardV(8), 3 * 3 * 0.95, HAND)
    expectWithin(boardV(10), 3 * 3.05 * 0.95, HAND)
    expectWithin(boardV(10), 3 * 3.05 * 0.95, HAND)
    expectWithin(boardV(8), 3 * 3 * 0.95, HAND)
  })
  test('two boards of 20 and 120 °C: their sum in series, their mean side by side, where each takes half of the current', () => {
    const at = { junctionC: Float64Array.of(20, 120) }
    const series = request(coarse(fewCells({ ...TWO_HALVES, emitter: straight, wired: 'series' })), ON, at)
    expectWithin(series.boardV(4), 3 + 2.7, HAND)
    const side = request(coarse(fewCells({ ...TWO_HALVES, emitter: straight, wired: 'parallel' })), ON, at)
    expectWithin(side.boardV(8), (3 + 2.7) / 2, HAND)
  })
})

test('cells a twelfth as many: two across the plate; by default 24', () => {
  expect(coarse(fewCells()).plate.columns).toBe(2)
  expect(makeModel(fewCells(), null).plate.columns).toBe(24)
})
