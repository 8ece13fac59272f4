// The power-up list's readings of a plate of one node, in closed form, and how bands are made of them.
import { describe, expect, test } from 'vitest'
import type { PowerModel } from '../../src/electrothermal/model.ts'
import { meanFlow, warmUpOf } from '../../src/electrothermal/warmUp.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import type { WarmUp } from '../../src/power/powerUp.ts'
import { expectWithin } from '../kit/expect.ts'
import { fewCells, lumped, TWO_HALVES } from '../kit/fewCells.ts'

const HAND = { rel: 1e-9, because: 'by hand' }
const LIGHT = { rel: 1e-5, because: '683.002 lm/W, not 683' }
const C_JK = 967.68
const joint = (lamp: Lamp, jointKcm2W: number): Lamp => ({
  ...lamp,
  boardTypes: lamp.boardTypes.map((t) => ({ ...t, thermal: { padKW: 0, jointKcm2W } })),
})
/** 0.5 W/K at 20 K over the air, where the list reads it, and far too much elsewhere. */
const oneNode = (lamp: Lamp): PowerModel => {
  const model = lumped(lamp)
  const at = (c: number) => ({ base: c === 40 ? 0.5 : 99, link: 0, fin: 0 })
  return { ...model, sink: { ...model.sink, at } }
}
/** C x' = P (1 − e^(−t/τ)) − G x, and P (1 − e^(−t/τ)) R over it. */
const closedForm = (tS: number, kW: number, watts = 11) => {
  const T = C_JK / 0.5
  const tau = kW * 0.04 * 2700 * 900 * 0.0015
  const late = Math.exp(-tS / tau)
  const slow = Math.exp(-tS / T)
  const plateK = (watts / C_JK) * (T * (1 - slow) - (late - slow) / (1 / T - 1 / tau))
  return { plateK, boardK: plateK + watts * (1 - late) * kW }
}
const only = (model: PowerModel, id = 'B1'): WarmUp[] => warmUpOf(model).get(id)!

describe('one board over all of the plate, a joint of 0.05 K/W', () => {
  test('sound, at twice the current, and with ten times the joint', () => {
    const readings = only(oneNode(joint(fewCells(), 20)))
    expect(readings.map((r) => r.atS)).toEqual([1, 5, 10, 60])
    for (const { atS, plate, board } of readings) {
      const sound = closedForm(atS, 0.05)
      const dry = closedForm(atS, 0.5)
      expectWithin(plate.twiceK, 2 * sound.plateK, { rel: 0.002, because: 'steps of a quarter of a second' })
      expectWithin(board.twiceK, 2 * sound.boardK, { rel: 0.002, because: 'as before' })
      expectWithin(plate.dryK, dry.plateK, { rel: 0.002, because: 'as before' })
      expectWithin(board.dryK, dry.boardK, { rel: 0.002, because: 'as before' })
    }
  })
  test('a good joint that dries has no less than 3 K·cm²/W', () => {
    const [first] = only(oneNode(joint(fewCells(), 0.1)))
    const dry = closedForm(1, 3 / 400)
    expectWithin(first!.board.dryK, dry.boardK, { rel: 0.002, because: 'as before' })
    const [more] = only(oneNode(joint(fewCells(), 0.4)))
    expectWithin(more!.board.dryK, closedForm(1, 4 / 400).boardK, { rel: 0.002, because: 'as before' })
  })
  test('a band: a limit halfway, in ratio, to the fault, or 1.35 off; the hot end no further than 1.35²', () => {
    for (const { plate, board } of only(oneNode(joint(fewCells(), 20)))) {
      for (const b of [plate, board]) {
        const soundK = b.twiceK / 2
        const slower = b.dryK < soundK / 1.35 ** 2
        expectWithin(b.fromK, slower ? Math.sqrt(soundK * b.dryK) : soundK / 1.35, HAND)
        const faultK = b.dryK > soundK ? Math.min(b.dryK, b.twiceK) : b.twiceK
        expectWithin(b.toK, Math.min(Math.sqrt(soundK * faultK), 1.35 ** 2 * soundK), HAND)
      }
    }
  })
  test('both ends of that rule occur: a dry joint holds the plate back at first, and heats the board at last', () => {
    const readings = only(oneNode(joint(fewCells(), 20)))
    const [first, last] = [readings[0]!, readings[3]!]
    expect(first.plate.dryK).toBeLessThan(first.plate.twiceK / 2 / 1.35 ** 2)
    expect(last.board.dryK).toBeGreaterThan(last.board.twiceK)
    // With a tenth of that joint the plate has caught up after a minute.
    const mild = only(oneNode(joint(fewCells(), 2)))[3]!
    expect(mild.plate.dryK).toBeGreaterThan(mild.plate.twiceK / 2 / 1.35 ** 2)
    expect(mild.board.dryK).toBeLessThan(mild.board.twiceK)
    expect(mild.board.dryK).toBeGreaterThan(mild.board.twiceK / 2)
  })
})

describe('heat', () => {
  /** After 10 s without a joint or a loss that counts: P t/C. */
  const watts = (lamp: Lamp, over: Partial<PowerModel> = {}) => {
    const model = { ...lumped(lamp, 0), ...over }
    return (readings: WarmUp[] | undefined = warmUpOf(model).get('B1')) =>
      ((readings?.[2]?.plate.dryK ?? 0) * C_JK) / 10
  }
  test('12 W less 1 W; two emitters twice; light that the optic keeps comes back', () => {
    // A dry joint of 0.0075 K/W holds τ = 1.09 s of it back.
    const held = 1 - (1.0935 * (1 - Math.exp(-10 / 1.0935))) / 10
    expectWithin(watts(fewCells())(), 11 * held, LIGHT)
    expectWithin(watts(fewCells({ sites: 2 }))(), 22 * held, LIGHT)
    expectWithin(
      watts(fewCells(), { retained: { face: 0.5, optics: 0.1, wall: 0.5, traced: true } })(),
      11.1 * held,
      LIGHT,
    )
    expectWithin(watts(fewCells({ boards: [{ currentA: 2 }] }))(), 5.5 * held, LIGHT)
  })
  test('none: no reading', () => {
    expect(warmUpOf(lumped(fewCells({ boards: [{ currentA: 0 }] }))).size).toBe(0)
    expect(warmUpOf(lumped(fewCells({ emitter: { fluxLm: 20 * 683 } }))).size).toBe(0)
    expect(warmUpOf(lumped(fewCells({ boards: [] }))).size).toBe(0)
  })
  test('twice the current of a straight table: 2.8 V + 0.05 Ω, at 4 A 12 W and at 8 A, on beyond its end, 3.2 V', () => {
    const forward = [
      { currentA: 2, volts: 2.9 },
      { currentA: 6, volts: 3.1 },
    ]
    const { plate } = only(lumped(fewCells({ emitter: { forward } }), 0))[2]!
    // 25.6 W less 2 W against 11 W; without a joint the sound plate takes P t/C.
    expectWithin(plate.twiceK, ((25.6 - 2) * 10) / C_JK, LIGHT)
  })
})

describe('several channels', () => {
  const halves = (over: Parameters<typeof fewCells>[0] = {}): PowerModel => {
    // Boards so long that no cell lies beside them: the plate is read under them.
    const model = lumped(joint(fewCells({ ...TWO_HALVES, boardMm: [100, 220], ...over }), 20))
    const [left, right] = model.plate.boards
    // The second half's heat enters by one of its two cells: it warms more.
    const patch = { cells: right!.cells.slice(0, 1), shares: Float64Array.of(1) }
    return { ...model, plate: { ...model.plate, boards: [left!, patch] } }
  }
  const alone = (model: PowerModel, i: number) => only({ ...model, channels: [model.channels[i]!] }, `B${i + 1}`)

  test('those of one type share a band over the innermost and the outermost of them', () => {
    const model = halves()
    const [one, two] = [alone(model, 0), alone(model, 1)]
    const both = warmUpOf(model)
    expect([...both.keys()]).toEqual(['B1', 'B2'])
    for (const i of [0, 1, 2, 3]) {
      for (const of of ['plate', 'board'] as const) {
        const [a, b] = [one[i]![of], two[i]![of]]
        const sound = [a.twiceK / 2, b.twiceK / 2]
        const dry = [a.dryK, b.dryK]
        expect(Math.abs(sound[0]! - sound[1]!)).toBeGreaterThan(1e-6)
        const [least, most] = [Math.min(...sound), Math.max(...sound)]
        const band = both.get('B1')![i]![of]
        const above = Math.min(2 * least, Math.min(...dry) > most ? Math.min(...dry) : 2 * least)
        expectWithin(band.twiceK, 2 * least, HAND)
        expectWithin(band.dryK, Math.min(...dry) > most ? Math.min(...dry) : Math.max(...dry), HAND)
        const slower = Math.max(...dry) < least / 1.35 ** 2
        expectWithin(band.fromK, slower ? Math.sqrt(least * Math.max(...dry)) : least / 1.35, HAND)
        expectWithin(band.toK, Math.min(Math.sqrt(most * above), 1.35 ** 2 * most), HAND)
        expect(both.get('B2')![i]![of]).toEqual(band)
      }
    }
  })
  test('each by its own heat: at half of the current half of the rise', () => {
    const whole = warmUpOf(halves()).get('B1')!
    const dimmed = warmUpOf(halves({ boards: [{ xMm: -50, currentA: 2 }, { xMm: 50 }] }))
    for (const i of [0, 1, 2, 3]) {
      expectWithin(dimmed.get('B1')![i]!.plate.twiceK, whole[i]!.plate.twiceK / 2, HAND)
      expectWithin(dimmed.get('B1')![i]!.board.dryK, whole[i]!.board.dryK / 2, HAND)
      expectWithin(dimmed.get('B2')![i]!.board.fromK, whole[i]!.board.fromK, HAND)
    }
  })
  test('one that gives no heat is left out, and doesn’t count as a place', () => {
    const model = halves({ boards: [{ xMm: -50, currentA: 0 }, { xMm: 50 }] })
    const bands = warmUpOf(model)
    expect([...bands.keys()]).toEqual(['B2'])
    expect(bands.get('B2')).toEqual(alone(model, 1))
  })
  test('another type of board has bands of its own', () => {
    const lamp = joint(fewCells({ ...TWO_HALVES, boardMm: [100, 220] }), 20)
    const types = [lamp.boardTypes[0]!, { ...lamp.boardTypes[0]!, id: 'other' }]
    const boards = lamp.boards.map((b, i) => ({ ...b, type: types[i]!.id }))
    const own = lumped({ ...lamp, boardTypes: types, boards })
    const model = { ...own, plate: halves().plate }
    expect(warmUpOf(model).get('B1')).toEqual(alone(model, 0))
    expect(warmUpOf(model).get('B2')).toEqual(alone(model, 1))
  })
  test('three of a type: the one between makes no difference', () => {
    const lamp = fewCells({ boardMm: [100, 220], boards: [{ xMm: -90 }, { xMm: 30 }, { xMm: 60 }] })
    const model = lumped(joint(lamp, 20))
    const [a, b, c] = model.plate.boards
    const patches = [a!, b!, { cells: c!.cells.slice(0, 1), shares: Float64Array.of(1) }]
    const plate = { ...model.plate, boards: patches }
    const without = { ...model, plate, channels: [model.channels[0]!, model.channels[1]!] }
    // 30 mm is the innermost, 90 mm the outermost.
    expect(warmUpOf({ ...model, plate }).get('B3')).toEqual(warmUpOf(without).get('B1'))
  })
  test('a group on one driver is no place of a board’s kind, nor the other way round', () => {
    const lamp = fewCells({ boards: [{ group: 'one' }, { group: 'two' }, { group: 'two' }] })
    const [group] = lamp.power!.groups
    const groups = [
      { ...group!, id: 'one', wired: 'each' as const },
      { ...group!, id: 'two', wired: 'series' as const },
    ]
    const model = lumped({ ...lamp, power: { ...lamp.power!, groups } }, 0)
    const bands = warmUpOf(model)
    expect([...bands.keys()]).toEqual(['B1', 'two'])
    expectWithin(bands.get('two')![2]!.plate.fromK, 2 * bands.get('B1')![2]!.plate.fromK, HAND)
    expect(bands.get('B1')).toEqual(only({ ...model, channels: [model.channels[0]!] }))
  })
  test('boards on one driver warm the plate together; the board read is the first', () => {
    const model = lumped(joint(fewCells({ ...TWO_HALVES, wired: 'series' }), 20))
    const readings = only(model, 'g')
    const one = alone(lumped(joint(fewCells(TWO_HALVES), 20)), 0)
    // 0.02 m² each: 0.1 K/W, τ = 7.29 s as for one board over all of it; on both halves the same.
    for (const [i, { atS, board, plate }] of readings.entries()) {
      const tau = 7.29
      const late = Math.exp(-atS / tau)
      expectWithin((board.twiceK - plate.twiceK) / 2, 11 * (1 - late) * 0.1, LIGHT)
      expectWithin(plate.twiceK, 4 * closedForm(atS, 0.05).plateK, {
        rel: 0.002,
        because: 'steps of a quarter of a second',
      })
      expect(one[i]!.plate.twiceK).toBeLessThan(plate.twiceK)
    }
  })
  test('two boards over the same cells: the heat of both', () => {
    const pair = only(lumped(fewCells({ boards: [{}, {}], wired: 'series' }), 0), 'g')
    const one = only(lumped(fewCells(), 0))
    for (const i of [0, 1, 2, 3]) expectWithin(pair[i]!.plate.twiceK, 2 * one[i]!.plate.twiceK, HAND)
  })
})

describe('the plate beside a board', () => {
  /** Ten cells of 20 mm across, held at a field of our own. */
  const besideK = (
    diameterMm: number,
    at: { xMm: number; yMm: number },
    field: (x: number, y: number) => number,
    toXMm = 100,
  ) => {
    const lamp = fewCells({ boards: [at] })
    const disc = { shape: 'disc' as const, diameterMm }
    const boardTypes = lamp.boardTypes.map((t) => ({ ...t, outline: disc }))
    const base = lumped(fewCells())
    const cells = 100
    const grid = { columns: 10, rows: 10, cellMm: 20, fromXMm: -100, fromYMm: -100 }
    const value = (i: number) => field(-90 + 20 * (i % 10), -90 + 20 * Math.floor(i / 10))
    const held = {
      ...{
        ...base.plate,
        ...grid,
        cellAt: Int32Array.from({ length: cells }, (_, i) => (-90 + 20 * (i % 10) < toXMm ? i : -1)),
      },
      areaM2: new Float64Array(cells).fill(0.0004),
      boards: [{ cells: Int32Array.of(0), shares: Float64Array.of(1) }],
      solve: (_: number, x: Float64Array) => x.set(x.map((__, i) => value(i))),
    }
    const model = { ...base, lamp: { ...lamp, boardTypes }, plate: held }
    return only(model)[0]!.plate.dryK
  }
  /** Mean of a field over cells whose middles lie i, j cells from the board's, with i² + j² of the list. */
  const mean = (
    squares: number[],
    at: { xMm: number; yMm: number },
    field: (x: number, y: number) => number,
    toXMm = 100,
  ) => {
    const values: number[] = []
    for (let i = -9; i <= 9; i++) {
      for (let j = -9; j <= 9; j++) {
        const [x, y] = [at.xMm + 20 * i, at.yMm + 20 * j]
        if (squares.includes(i * i + j * j) && x > -100 && x < toXMm && Math.abs(y) < 100) values.push(field(x, y))
      }
    }
    return values.reduce((a, b) => a + b, 0) / values.length
  }
  const uneven = (x: number, y: number) => 1000 + x * x * 0.01 + 2 * x + 5 * y + 0.03 * y * y

  test('cells from the rim to one and a half cells outside of it, both ends included', () => {
    const at = { xMm: 10, yMm: 10 }
    // A radius of 40 mm: from 2 cells (4) to 70 mm, 3.5 cells (12.25). One of 30 mm: from 1.5 (2.25) to 3 cells (9).
    expectWithin(besideK(80, at, uneven), mean([4, 5, 8, 9, 10], at, uneven), HAND)
    expectWithin(besideK(60, at, uneven), mean([4, 5, 8, 9], at, uneven), HAND)
  })
  test('near the plate’s edge only what is there', () => {
    const at = { xMm: -70, yMm: 50 }
    expectWithin(besideK(60, at, uneven), mean([4, 5, 8, 9], at, uneven), HAND)
    // In the corner of cell 0.
    const corner = { xMm: -50, yMm: -50 }
    expectWithin(besideK(60, corner, uneven), mean([4, 5, 8, 9], corner, uneven), HAND)
    const middle = { xMm: 10, yMm: 10 }
    expectWithin(besideK(60, middle, uneven, 40), mean([4, 5, 8, 9], middle, uneven, 40), HAND)
  })
  test('none there: the cells under the board', () => {
    expectWithin(besideK(400, { xMm: 10, yMm: 10 }, uneven), uneven(-90, -90), HAND)
  })
})

describe('what passes a joint behind which heat is stored, mean of 1 − e^(−t/τ)', () => {
  test.each([
    [0, 1, 0, 1],
    [0, 1, 1, 1 / Math.E],
    [0, 2, 1, 1 - (1 - Math.E ** -2) / 2],
    [1, 2, 1, 1 - Math.E ** -1 + Math.E ** -2],
    [3, 5, 0.5, 1 - (0.5 * (Math.E ** -6 - Math.E ** -10)) / 2],
  ])('%f to %f s, τ %f s: %f', (from, to, tau, share) => {
    expectWithin(meanFlow(from, to, tau), share, { abs: 1e-12, because: 'the integral by hand' })
  })
})
