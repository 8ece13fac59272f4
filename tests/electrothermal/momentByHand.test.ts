// The plate's cells, the front over them, and the figures of one moment, worked out by hand.
import { describe, expect, test } from 'vitest'
import type { OperatingState } from '../../src/electrothermal/model.ts'
import { momentOf } from '../../src/electrothermal/moment.ts'
import { frontOf, makePlateOf, readSiteTemperatures } from '../../src/electrothermal/plateOf.ts'
import type { FrontRise } from '../../src/heat/frontRise.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { coarse, fewCells, lumped, ON, stateAt, TWO_HALVES } from '../kit/fewCells.ts'

const HAND = { rel: 1e-9, because: 'by hand' }
const riseOf = (over: Partial<FrontRise>): FrontRise => ({
  ...{ meanKW: new Float64Array(4), hotKW: new Float64Array(4), faceKW: [] },
  ...over,
})

describe('the plate', () => {
  const across = (lamp: Lamp, refine: number) => 200 / makePlateOf(lamp, refine).plate.cellMm

  test('five cells across the smallest board, 24 to 36 across the face; times refine', () => {
    const quarter = (...boardMm: [number, number]) => across(fewCells({ boardMm }), 0.25)
    expectWithin(quarter(200, 200), 6, HAND)
    // 5 · 200/41 is 24.4: 25. 5 · 200/29 is 34.5: 35.
    expectWithin(quarter(60, 41), 6.25, HAND)
    expectWithin(quarter(29, 60), 8.75, HAND)
    expectWithin(quarter(20, 20), 9, HAND)
    expectWithin(across(fewCells(), 0.5), 12, HAND)
  })
  test('the smallest of all boards counts; without boards the face', () => {
    const lamp = fewCells({ boards: [{}, { type: 'small' }] })
    const small = { ...lamp.boardTypes[0]!, id: 'small', outline: { shape: 'disc' as const, diameterMm: 40 } }
    expectWithin(across({ ...lamp, boardTypes: [...lamp.boardTypes, small] }, 0.25), 6.25, HAND)
    expectWithin(across({ ...lamp, boards: [] }, 0.25), 6, HAND)
  })
  test('10 mm of 6061: 24.192 kJ/m²K over 0.04 m²; 160 W/mK · 10 mm from cell to cell', () => {
    const { plate } = makePlateOf(fewCells(), 1 / 12)
    expectWithin(plate.storedJm2K, 0.01 * 2700 * 896, HAND)
    expectWithin(plate.totalM2, 0.04, HAND)
    // Square cells: as wide as they are apart. 1 K over two neighbours: 3.2 W flow out.
    expectWithin(plate.outflow(Float64Array.of(1, 0, 0, 0))[0]!, 3.2, HAND)
  })
  test('a board turned by 90° covers the half above; its emitter sits 20 mm from the middle of the plate', () => {
    const lamp = fewCells({ boardMm: [100, 200], boards: [{ yMm: 50, turnDeg: 90 }] })
    const moved = { ...lamp, boardTypes: lamp.boardTypes.map((t) => ({ ...t, sites: [{ xMm: -30, yMm: 0 }] })) }
    const { plate } = makePlateOf(moved, 1 / 12)
    expect([...plate.boards[0]!.cells]).toEqual([2, 3])
    for (const share of plate.boards[0]!.shares) expectWithin(share, 0.5, HAND)
    // y = 50 − 30 = 20 mm: 7/10 of the way from the low row of cells to the high one.
    const [site] = plate.sites[0]!
    const upper = site!.cells.reduce((sum, cell, i) => sum + (cell >= 2 ? site!.shares[i]! : 0), 0)
    expectWithin(upper, 0.7, HAND)
  })
  test('a board over all of it: the front is q t/2k hotter than the mean, heat in at the front and out at the back', () => {
    const { rise } = makePlateOf(fewCells(), 1 / 12)
    const kW = 0.01 / (2 * 160 * 0.04)
    for (const x of rise.faceKW[0]!) expectWithin(x, kW, { rel: 1e-6, because: 'a series closed by its rest' })
  })
})

describe('the front', () => {
  const twoSites = () => {
    const { plate } = coarse(fewCells(TWO_HALVES))
    const site = (cells: number[], shares: number[]) => ({
      cells: Int32Array.from(cells),
      shares: Float64Array.from(shares),
    })
    const sites = [[site([0, 1], [0.25, 0.75]), site([3], [1])], [site([2], [1])]]
    return { ...plate, sites }
  }
  test('under a board’s emitters: mean and hottest of its sites, and what each board’s heat adds there', () => {
    const rise = riseOf({ meanKW: Float64Array.of(1, 0.1, 0.2, 2), hotKW: Float64Array.of(3, 0.3, 0.4, 4) })
    const [site, hot] = [new Float64Array(2), new Float64Array(2)]
    const plateC = Float64Array.of(20, 24, 40, 29)
    readSiteTemperatures({ plate: twoSites(), rise }, plateC, Float64Array.of(5, 10), site, hot)
    // Sites of board 1: 23 and 29 °C; of board 2: 40 °C.
    expectWithin(site[0]!, 26 + 5 * 1 + 10 * 0.1, HAND)
    expectWithin(hot[0]!, 29 + 5 * 3 + 10 * 0.3, HAND)
    expectWithin(site[1]!, 40 + 5 * 0.2 + 10 * 2, HAND)
    expectWithin(hot[1]!, 40 + 5 * 0.4 + 10 * 4, HAND)
  })
  test('below zero too the hottest site is the hottest', () => {
    const [site, hot] = [new Float64Array(2), new Float64Array(2)]
    const cold = Float64Array.of(-40, -40, -30, -20)
    readSiteTemperatures({ plate: twoSites(), rise: riseOf({}) }, cold, new Float64Array(2), site, hot)
    expect([...site, ...hot]).toEqual([-30, -30, -20, -30])
  })
  test('at each cell: the plate and each board’s watts times its field; a board without heat adds nothing', () => {
    const rise = riseOf({ faceKW: [Float64Array.of(1, 2, 3, 4), Float64Array.of(0.5, 0, 0, 0)] })
    const plateC = Float64Array.of(20, 20, 30, 30)
    expect([...frontOf({ rise }, plateC, Float64Array.of(2, 10))]).toEqual([27, 24, 36, 38])
    expect([...frontOf({ rise }, plateC, Float64Array.of(0, 10))]).toEqual([25, 20, 30, 30])
    expect([...frontOf({ rise }, plateC, Float64Array.of(2))]).toEqual([22, 24, 36, 38])
    expect([...plateC]).toEqual([20, 20, 30, 30])
  })
})

describe('one moment', () => {
  const temperatures = { plateC: Float64Array.of(30, 40, 50, 60), finC: Float64Array.of(20, 30, 40, 46) }
  const account = { inJ: 1, lightJ: 2, wallJ: 3, storedJ: 4, toAirJ: 5, driverJ: 6, wiresJ: 7, cellsJ: 8 }
  const dark = { ...ON, share: 0 }
  const momentAt = (over: Partial<OperatingState>, limits = [150, 150], faceKW = [0, 0, 0, 0], heatW = [2, 0]) => {
    const base = lumped(fewCells(TWO_HALVES))
    const boards = base.boards.map((b, i) => ({ ...b, maxJunctionC: limits[i]! }))
    const at = (c: number) => ({ base: 0, link: c === 45 ? 3 : 0, fin: 1 })
    const rise = riseOf({ faceKW: [Float64Array.from(faceKW), new Float64Array(4)] })
    const model = { ...base, boards, rise, sink: { ...base.sink, at } }
    const state = stateAt(model, 20, over)
    const now = momentOf(model, dark, state, 12, temperatures, Float64Array.from(heatW), 33, account, 0.7)
    return { now, state }
  }
  test('means over the plate and its fins, the flow between them, what is read of it and what is handed on', () => {
    const { now, state } = momentAt({ charge: 0.4, hotC: Float64Array.of(41, 42) })
    expectWithin(now.plateMeanC, 45, HAND)
    expectWithin(now.sinkC, 34, HAND)
    // 3 W/K at the mean of 45 °C, 11 K.
    expectWithin(now.sinkW, 33, HAND)
    expect(now).toMatchObject({ tS: 12, watchedC: 60, passes: 0.7, charge: 0.4, cellC: 33, account })
    expect([...now.heatW, ...now.hotC]).toEqual([2, 0, 41, 42])
    // A copy: the run goes on writing into its own.
    state.hotC[0] = 99
    expect(now.hotC[0]).toBe(41)
    expect(now.temperatures).toBe(temperatures)
  })
  test('the hottest place: a cell, the front over it, or an emitter’s', () => {
    expect(momentAt({}).now.plateMaxC).toBe(60)
    expect(momentAt({}, [150, 150], [20, 0, 0, 0]).now.plateMaxC).toBe(70)
    expect(momentAt({ hotC: Float64Array.of(20, 75) }).now.plateMaxC).toBe(75)
  })
  test('the hottest junction, and the board nearest to its own limit', () => {
    const hot = { siteC: Float64Array.of(90, 50), hotC: Float64Array.of(100, 50) }
    expect(momentAt(hot, [150, 60]).now).toMatchObject({ junctionMaxC: 100, hottest: 1, overK: -10 })
    expect(momentAt(hot, [105, 60]).now).toMatchObject({ junctionMaxC: 100, hottest: 0, overK: -5 })
    // Half a kelvin nearer to its limit, though 50 K cooler.
    expect(momentAt(hot, [110, 59.5]).now).toMatchObject({ junctionMaxC: 100, hottest: 1, overK: -9.5 })
    // The first of two alike.
    expect(momentAt(hot, [110, 60]).now).toMatchObject({ hottest: 0, overK: -10 })
  })
})
