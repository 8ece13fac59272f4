import { describe, expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { readSunPoints } from '../../src/hazard/sunMap.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { traceBareLens } from '../../src/job/danger/bareLens.ts'
import type { Lens } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { makeScheduler } from '../../src/num/scheduler.ts'
import { compileSun } from '../../src/scene/compile.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter, sceneOf, traceScene } from '../kit/traceHere.ts'

describe('a round lamp', () => {
  const lamp = gannetHead()
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const sunRun = (tiltDeg: number, azimuthDeg: number) =>
    traceScene(compileSun(scene, lamp, tiltDeg, azimuthDeg), shape, { rays: 1 << 15 })
  const places: never[] = []
  test('a turned spot is where the sun traced from there puts it, and as hot', () => {
    // From off both axes, so that a turn the wrong way shows.
    const turned = readSunPoints({ tiltDeg: 2, run: sunRun(2, 30), places }, lamp, 30, [60])[0]!
    const traced = readSunPoints({ tiltDeg: 2, run: sunRun(2, 90), places }, lamp, 90, [0])[0]!
    expect(turned.azimuthDeg).toBe(90)
    expectWithin(Math.hypot(turned.xMm - traced.xMm, turned.yMm - traced.yMm), 0, {
      abs: 6,
      because: 'cells of 2 mm, a spot of 15',
    })
    expectWithin(turned.kWm2, traced.kWm2, { rel: 0.1, because: 'some thousand rays in the disc, and the cells' })
    // Closed form: away from the sun by f tan 2° of what the lens leaves at its distance.
    expect(traced.yMm).toBeLessThan(-20)
  })
  test('names the board that it lands on', () => {
    const points = readSunPoints({ tiltDeg: 2, run: sunRun(2, 0), places }, lamp, 0, [0, 60, 120])
    for (const p of points) {
      expect(p.lands).toBe('board')
      const board = lamp.boards.find((b) => b.id === p.board)!
      expect(Math.hypot(board.xMm - p.xMm, board.yMm - p.yMm)).toBeLessThan(17.5 + 5)
    }
    expect(readSunPoints({ tiltDeg: 2, run: sunRun(2, 0), places }, { ...lamp, boards: [] }, 0, [0])[0]).toMatchObject({
      lands: 'face',
      board: null,
    })
  })
  test('at no tilt there is one azimuth', () => {
    expect(readSunPoints({ tiltDeg: 0, run: sunRun(0, 0), places }, lamp, 0, [0, 30, 60]).length).toBe(1)
  })
})

describe('the bare lens on a bench, against closed forms', () => {
  const read = (lens: Lens, tiltsDeg: number[] | undefined = amount([0, 20], undefined)) => {
    const lamp = oneEmitter({ lens })
    const lit = { ...lamp, reading: { ...lamp.reading, sunWm2: 1000 } }
    return traceBareLens(makePool([inlineWorker()]), lit, { seed: 1, rays: 1 << 15, tiltsDeg }, makeScheduler())
  }
  test('an ideal lens: focus at f, the sun’s image inside the disc holds all that falls on the lens', async () => {
    const bare = (await read({ kind: 'ideal', zMm: 400, focalMm: 500, diameterMm: 100 }))!
    expectWithin(bare.focusMm, 500, { abs: 30, because: 'all of the image stays in the disc over ±54 mm' })
    expect(bare.tiltDeg).toBe(0)
    expectWithin(bare.kWm2, (1000 * 100 ** 2) / 10 ** 2 / 1000, { rel: 0.03, because: 'all of it, and the upper end' })
    expectWithin(bare.sunImageMm, 2 * 500 * Math.tan((0.2666 * Math.PI) / 180), { rel: 1e-9, because: 'the formula' })
    expectWithin(bare.mmPerMinute, (bare.focusMm * Math.PI) / 180 / 4, { rel: 1e-9, because: '15° an hour' })
    // An ideal lens reflects nothing.
    expect(bare.before).toBeNull()
  })
  test('an image larger than the disc: hottest before the focus, as near as the whole lens still shines into all of the disc', async () => {
    const bare = (await read({ kind: 'ideal', zMm: 1500, focalMm: 2000, diameterMm: 100 }, [0]))!
    // A lens point at R sends sun to a place at r on plane z if R (1/z − 1/f) + r/z ≤ tan 0.2666°; there E is the sun's radiance times the lens's solid angle.
    const tan = Math.tan((0.2666 * Math.PI) / 180)
    const z = (50 + 5) / (tan + 50 / 2000)
    expectWithin(bare.focusMm, z, { rel: 0.05, because: 'a flat top' })
    // From there on the middle of the sun fills more and more of the disc: the mean of (2 + 3μ)/5 over 4/5 (Eddington; memory) of all pairs
    // of a lens point and a disc point, by a grid of 100 × 100 polar points at turns of 1/12.
    const meanAt = (d: number) => {
      const even = (k: number) => Math.sqrt((k + 0.5) / 100)
      let sum = 0
      for (let i = 0; i < 100; i++)
        for (let j = 0; j < 100; j++)
          for (let turn = 0; turn < 12; turn++) {
            const [x, l] = [(5 * even(i)) / d, 50 * even(j) * (1 / d - 1 / 2000)]
            const square = (x * x + l * l + 2 * x * l * Math.cos((turn * Math.PI) / 6)) / tan ** 2
            if (square < 1) sum += (2 + 3 * Math.sqrt(1 - square)) / 4
          }
      return sum / 120_000
    }
    const hottest = Math.max(
      ...[1600, 1700, 1750, 1800, 1850, 1900, 2000].map((d) => meanAt(d) * (50 / (d * tan)) ** 2),
    )
    expectWithin(bare.kWm2, hottest, { rel: 0.08, because: 'upper end' })
  })
  test('a plano-convex lens, curved side to the sun: that side is a mirror that spreads; the flat side behind throws light back to a focus', async () => {
    // Thin: two passes of the curved side and a reflection at the flat one give 1/f' = 2/f, f' = f/2 = R/(2(n − 1)).
    const n = 1.49
    const bare = (await read({
      kind: 'solid',
      zMm: 400,
      radiusMm: 200,
      conic: 0,
      thicknessMm: 6,
      diameterMm: 80,
      curved: 'target',
      material: 'pmma',
    }))!
    expect(bare.before).not.toBeNull()
    expectWithin(bare.before!.distanceMm, 200 / (2 * (n - 1)), { rel: 0.12, because: 'a thin lens, and its thickness' })
    // A reflectance of ((n − 1)/(n + 1))² = 0.0387 of the light that falls on the lens, twice through the curved side.
    const most = 0.0387 * (1 - 0.0387) ** 2 * (80 / 10) ** 2
    expect(bare.before!.kWm2).toBeLessThan(1.1 * most)
    expect(bare.before!.kWm2).toBeGreaterThan(0.5 * most)
  })
  test('off the axis it has no symmetry: tilted, the sun comes from four sides; from two for a rectangle', async () => {
    const round = gannetHead()
    const tracesOf = async (piece: object) => {
      const shares: number[] = []
      const lamp = { ...round, lens: { ...round.lens!, ...piece } as Lens }
      const options = { seed: 1, rays: 1024, tiltsDeg: [0, 20] }
      await traceBareLens(makePool([inlineWorker()]), lamp, options, makeScheduler(), (share) => shares.push(share))
      return shares.length
    }
    expect(await tracesOf({})).toBe(2)
    expect(await tracesOf({ aperture: 'rectangle', heightMm: 300 })).toBe(3)
    expect(await tracesOf({ centreXMm: 40 })).toBe(5)
  })
  test('no lens: none', async () => {
    const lamp = oneEmitter({})
    expect(await traceBareLens(makePool([inlineWorker()]), lamp, { seed: 1 }, makeScheduler())).toBeNull()
  })
})
