// Temperatures of the lamp's parts from maps filled by hand: each figure by the balance that it names.
import { describe, expect, test } from 'vitest'
import { absorbedBySheet } from '../../src/hazard/balance.ts'
import { readFaceSpot, readLensSpot, readWallSpot, upperKWm2 } from '../../src/hazard/discs.ts'
import { readParts } from '../../src/hazard/onParts.ts'
import type { Lamp, OpticType } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lostKWm2, steadyTemperatureC } from '../../src/library/heatBalance.ts'
import { LENS_MATERIALS, refractiveIndex } from '../../src/library/materials.ts'
import {
  BOARD_PLASTIC_LIMIT,
  LINING_LIMITS,
  OPTIC_LIMIT,
  secondsToHarm,
  thresholds,
} from '../../src/library/thresholds.ts'
import { T95 } from '../../src/num/stats.ts'
import type { TallyLayout } from '../../src/run/layout.ts'
import { BATCHES, FATES, type Run } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const because = 'the balance'
const AMBIENT = 25

type Board = Lamp['boards'][number]

/** An acrylic lens of 3 mm, a tube that throws back 0.88, seven emitters on one board; air of 25 °C. */
function drawn(over: Partial<Lamp> = {}): Lamp {
  const lamp = gannetHead()
  return {
    ...lamp,
    boards: lamp.boards.slice(0, 1),
    reading: { ...lamp.reading, ambientC: AMBIENT, hotDiscMm: 8 },
    ...over,
  }
}

/** Weights of one cell on each map (16 W each), and what the lens takes in of a batch. */
function lit(weights: { lens?: number; wall?: number; face?: number; taken?: (batch: number) => number }): Run {
  const shape = smallShape({
    lens: { n: 8, halfMm: 40, zMm: 1050 },
    wall: { nAlong: 4, nRound: 8, zInMm: 14, zOutMm: 1040, inMm: 200, outMm: 560, sides: 0 },
  })
  const fill = (tally: Float64Array, layout: TallyLayout, batch: number) => {
    tally[layout.lensW + 20] = weights.lens ?? 0
    tally[layout.wallW + 20] = weights.wall ?? 0
    tally[layout.faceW + 5] = weights.face ?? 0
    tally[layout.fateW + FATES.indexOf('lensAbsorbed')] = weights.taken?.(batch) ?? 0
    tally[layout.fateW + FATES.indexOf('wall')] = 0.25
  }
  return filledRun(shape, fill, { rays: BATCHES })
}
const seven = new Float64Array(7).fill(1)
const read = (run: Run, lamp = drawn(), watts: ArrayLike<number> = seven) => readParts(run, lamp, watts)

describe('boards on spacers', () => {
  const run = lit({ face: 0.01 })
  const raised = drawn({
    boards: gannetHead()
      .boards.slice(0, 1)
      .map((b) => ({ ...b, heightMm: 40 })),
  })
  const place = { kWm2: 500, se: 0, xMm: 0, yMm: 0, zMm: 40, discMm: 8 }
  const boards = (lamp: Lamp, zMm: number, kWm2 = 500) =>
    readParts(run, lamp, seven, null, [{ ...place, zMm, kWm2 }]).boards!
  test('the hottest place in the air as high as they reach counts, if it is hotter than the face', () => {
    const flat = read(run).boards!
    expect(boards(raised, 40).kWm2).toBe(500)
    expect(boards(raised, 47).spot.zMm).toBe(47)
    expect(boards(raised, 49).kWm2).toBe(flat.kWm2)
    expect(boards(raised, 40, 0.1).kWm2).toBe(flat.kWm2)
    // Boards flat on the face: light meets them where it is booked.
    expect(boards(drawn(), 4).kWm2).toBe(flat.kWm2)
  })
})

/** None of 16 rays of 1 W, over 8 mm: 3.69 of them at the most (Garwood 1936, −ln 0.025), 73.4 kW/m²; shown up to 5 % more and in two digits. */
const noneMet = (where: string) =>
  expect.stringMatching(`^None of 16 rays has met ${where}: less than 7[4-9] kW/m²\\.$`)

describe('the lens', () => {
  test('its hottest disc, upper end; clean it takes in a share, dirt takes in all', () => {
    const run = lit({ lens: 0.01, taken: (b) => 0.001 * b })
    const { lens, absent } = read(run)
    const spot = readLensSpot(run, 8)!
    expect(absent.lens).toBeUndefined()
    const { material, spot: found, kWm2, absorbedShare, absorbedW, cleanC, dirtyC, faceC, ...limits } = lens!
    expect([material, found, kWm2]).toEqual(['Acrylic (PMMA)', spot, upperKWm2(spot)])
    expectWithin(kWm2, 1.6 + (T95 * 16_000) / (16 * 100), { rel: 1e-12, because: '0.16 W on 100 mm², ± one ray’s 1 W' })
    const share = absorbedBySheet(5.21e-3, 3, refractiveIndex('pmma', 550))
    expectWithin(absorbedShare, share, { rel: 1e-12, because: 'the less clear sample, the longest way' })
    // 0.001 b of a unit of weight: 16 W · 7.5e-3 in all; s.e. √(340/15/16) of it. The less clear sample takes in 5.21/3.98 as much.
    const upper = 16e-3 * (7.5 + T95 * Math.sqrt(340 / 15 / 16))
    expectWithin(absorbedW, (upper * 5.21) / 3.98, { rel: 1e-9, because })
    // The face, 200 mm wide and 1050 mm below, fills 141²/(141² + 1050²) of its view; the air between conducts 0.03/1.05 W/m²K.
    const k4 = (c: number) => (c + 273.15) ** 4
    const fromFace =
      ((2e4 / (2e4 + 1050 ** 2)) * 5.670374419e-8 * (k4(faceC) - k4(cleanC))) / (2 / 0.9 - 1) +
      (0.03 * (faceC - cleanC)) / 1.05
    expect(faceC).toBe(85)
    expectWithin(lostKWm2(cleanC, { ambientC: AMBIENT }), share * kWm2 + fromFace / 1000, { rel: 1e-6, because })
    expectWithin(lostKWm2(dirtyC, { ambientC: AMBIENT }), kWm2, { rel: 1e-6, because })
    expect(limits).toEqual({
      name: 'Lens',
      keepBelowC: 70,
      deflectionC: 95,
      source: LENS_MATERIALS.pmma.sources.temperature,
    })
  })
  test('why there is none', () => {
    const run = lit({ lens: 0.01 })
    expect(read(run, drawn({ lens: null }))).toMatchObject({ lens: null, absent: { lens: 'The lamp has no lens.' } })
    expect(read(run, drawn({ lens: { kind: 'ideal', zMm: 200, focalMm: 200, diameterMm: 200 } }))).toMatchObject({
      lens: null,
      absent: { lens: 'An ideal lens is of no material.' },
    })
    expect(read(lit({}))).toMatchObject({ lens: null, absent: { lens: noneMet('the lens') } })
  })
})

describe('the wall', () => {
  test('takes in what it doesn’t throw back; linings let go from their limit on', () => {
    const spots = [0.05, 6, 20, 60].map((wall) => {
      const run = lit({ wall })
      const { wall: got, absent } = read(run)
      const spot = readWallSpot(run, 8)!
      expect(absent.wall).toBeUndefined()
      expect([got!.spot, got!.kWm2]).toEqual([spot, upperKWm2(spot)])
      expectWithin(got!.absorbedShare, 0.12, { rel: 1e-12, because: '1 − 0.88' })
      expectWithin(lostKWm2(got!.cleanC, { ambientC: AMBIENT }), 0.12 * got!.kWm2, { rel: 1e-5, because })
      expectWithin(lostKWm2(got!.dirtyC, { ambientC: AMBIENT }), got!.kWm2, { rel: 1e-5, because })
      expect(got!.limits.map(({ passed: _, ...limit }) => limit)).toEqual(LINING_LIMITS)
      for (const { limitC, passed } of got!.limits) expect(passed).toBe(got!.cleanC > limitC)
      return got!.limits.filter((l) => l.passed).length
    })
    // From none to all.
    expect(Math.min(...spots)).toBe(0)
    expect(Math.max(...spots)).toBe(3)
  })
  test('why there is none', () => {
    expect(read(lit({}))).toMatchObject({ wall: null, absent: { wall: noneMet('the wall') } })
    expect(read(lit({ wall: 1 }), drawn({ tunnel: null }))).toMatchObject({
      wall: null,
      absent: { wall: 'The lamp has no tunnel.' },
    })
  })
})

describe('the face', () => {
  const boards = (face: number, lamp = drawn(), modelled: Parameters<typeof readParts>[3] = null) =>
    readParts(lit({ face }), lamp, seven, modelled).boards!
  test('dark plastic over the face’s temperature, its limit and its time', () => {
    for (const face of [0.001, 0.01, 0.5]) {
      const got = boards(face, drawn(), { faceC: 50, from: 'said' })
      const spot = readFaceSpot(lit({ face }), 8)!
      expect([got.spot, got.kWm2, got.faceC, got.faceFrom]).toEqual([spot, upperKWm2(spot), 50, 'said'])
      expectWithin(got.plasticC, steadyTemperatureC({ takenKWm2: got.kWm2, ambientC: 50 }), { rel: 1e-12, because })
      expect(got.limit).toEqual({ ...BOARD_PLASTIC_LIMIT, passed: got.plasticC > 70 })
      // The sooner of a sleeve and a holder, in the face’s air.
      const [pvc, holder] = ['pvc', 'black-plastic'].map((id) => {
        const row = thresholds(undefined, 50).find((t) => t.id === id)!
        return secondsToHarm(row, got.kWm2, 50)
      })
      expect(got.plasticSeconds).toBe(pvc === null ? holder : holder === null ? pvc : Math.min(pvc!, holder!))
    }
    expect(boards(0.5, drawn(), { faceC: 50, from: '' }).plasticSeconds).toBeGreaterThan(0)
    expect(boards(0.5, drawn(), { faceC: 50, from: '' }).limit.passed).toBe(true)
  })
  test('none that softens where there is next to no light', () => {
    // 16 000 rays: one is worth next to nothing.
    const faint = lit({ face: 1e-6 })
    faint.rays = 1.6e9
    const got = readParts(faint, drawn(), seven, { faceC: 30, from: '' }).boards!
    expect(got.plasticSeconds).toBeNull()
    expect(got.limit.passed).toBe(false)
  })
  test('the hotter of model and document, else the hottest rated junction, never colder than the air', () => {
    const stated = drawn({ heat: { kind: 'board', boardC: 60 } })
    expect(boards(0.01, stated)).toMatchObject({ faceC: 60, faceFrom: 'stated in the document' })
    expect(boards(0.01, stated, { faceC: 50, from: 'model' })).toMatchObject({ faceC: 60 })
    expect(boards(0.01, stated, { faceC: 70, from: 'model' })).toMatchObject({ faceC: 70, faceFrom: 'model' })
    // Of equal ones the model.
    expect(boards(0.01, stated, { faceC: 60, from: 'model' })).toMatchObject({ faceC: 60, faceFrom: 'model' })
    expect(boards(0.01, drawn(), { faceC: 10, from: 'model' })).toMatchObject({ faceC: AMBIENT, faceFrom: 'model' })
    const rated = boards(0.01)
    const lamp = drawn()
    expect(rated).toMatchObject({ faceFrom: 'no heat model: the rated junction of the emitters' })
    expect(rated.faceC).toBe(lamp.emitterTypes[0]!.ratedJunctionC)
    expect(rated.faceC).toBeGreaterThan(AMBIENT)
    // Of two kinds the hotter.
    const [type, emitter, board] = [lamp.boardTypes[0]!, lamp.emitterTypes[0]!, lamp.boards[0]!]
    const hotter = { ...emitter, id: 'hotter', ratedJunctionC: emitter.ratedJunctionC + 20 }
    const mixed = drawn({
      emitterTypes: [emitter, hotter],
      boardTypes: [type, { ...type, id: 'hot', emitter: 'hotter' }],
      boards: [{ ...board, id: 'h', type: 'hot' }, board],
    })
    expect(readParts(lit({ face: 1 }), mixed, new Float64Array(14), null).boards!.faceC).toBe(hotter.ratedJunctionC)
  })
  test('why there is none', () =>
    expect(read(lit({}))).toMatchObject({ boards: null, absent: { boards: noneMet('the face on its way back') } }))
})

describe('moulded optics', () => {
  type Collimator = Extract<OpticType, { kind: 'collimator' }>
  const collimator = (id: string, over: Partial<Collimator> = {}): Collimator => ({
    kind: 'collimator',
    id,
    name: id.toUpperCase(),
    exitDiameterMm: 20,
    heightMm: 10,
    efficiency: 0.9,
    fwhmDeg: 20,
    shape: 'gaussian',
    ...over,
  })
  const lamp = (optics: Collimator[], siteOptics?: Record<string, string>) => {
    const base = drawn()
    const board: Board = { ...base.boards[0]!, ...(siteOptics ? { siteOptics } : {}) }
    return drawn({
      opticTypes: [...optics, { kind: 'bare', id: 'bare', name: 'Bare' }],
      optic: optics[0]!.id,
      boards: [board],
    })
  }
  const optics = (of: Lamp, watts: number[], faceC = 50) => readParts(lit({}), of, watts, { faceC, from: '' }).optics
  test('watts that it doesn’t pass over twice its exit, over the face’s temperature', () => {
    const [got, ...more] = optics(lamp([collimator('c')]), [1, 1, 1, 1, 1, 1, 1])
    expect(more).toEqual([])
    expect([got!.name, got!.faceC]).toEqual(['C', 50])
    expectWithin(got!.takenW, 0.1, { rel: 1e-12, because: 'a tenth of 1 W' })
    // 0.1 W over 2 π 10² mm².
    expectWithin(lostKWm2(got!.settlesC, { ambientC: 50 }), (0.1 / (2 * Math.PI * 100)) * 1000, { rel: 1e-5, because })
    expect(got!.limit).toEqual({ ...OPTIC_LIMIT, passed: got!.settlesC > 70 })
  })
  test('passes its limit where it gets that hot; never colder than the air', () => {
    expect(optics(lamp([collimator('c')]), [9, 0, 0, 0, 0, 0, 0])[0]!.limit.passed).toBe(true)
    expect(optics(lamp([collimator('c')]), [0.01, 0, 0, 0, 0, 0, 0])[0]!.limit.passed).toBe(false)
    expect(optics(lamp([collimator('c')]), [0, 0, 0, 0, 0, 0, 0], 10)[0]!.settlesC).toBe(AMBIENT)
  })
  test('of each kind the hottest, in order of the places; bare ones have none', () => {
    const two = lamp([collimator('c'), collimator('d', { exitDiameterMm: 10 })], { 1: 'd', 3: 'bare', 5: 'd', 6: 'd' })
    const got = optics(two, [1, 2, 3, 99, 2, 1, 4])
    expect(got.map((o) => o.name)).toEqual(['C', 'D'])
    expectWithin(got[0]!.takenW, 0.3, { rel: 1e-12, because: 'a tenth of 3 W' })
    expectWithin(got[1]!.takenW, 0.4, { rel: 1e-12, because: 'a tenth of 4 W' })
    expect(got[1]!.settlesC).toBeGreaterThan(got[0]!.settlesC)
    expect(
      optics(
        lamp([collimator('c')], Object.fromEntries([0, 1, 2, 3, 4, 5, 6].map((k) => [k, 'bare']))),
        [1, 1, 1, 1, 1, 1, 1],
      ),
    ).toEqual([])
  })
})
