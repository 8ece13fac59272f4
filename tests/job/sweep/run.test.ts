// What a sweep says, against a trace of the same lamp and against what can be worked out by hand.
import { describe, expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import { traceCell } from '../../../src/job/sweep/cell.ts'
import { openSweepClient } from '../../../src/job/sweep/client.ts'
import { inlineTracer } from '../../../src/job/sweep/inlineTracer.ts'
import { lampAt, type SweepAxes } from '../../../src/job/sweep/plan.ts'
import { NOTHING_SHINES, runSweep, type SweepCell } from '../../../src/job/sweep/run.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin } from '../../kit/expect.ts'

const RAYS = 1 << 13

async function swept(lamp: Lamp, axes: SweepAxes, { workers = 1, rays = RAYS } = {}) {
  const cells: SweepCell[] = []
  const came: number[] = []
  const all = Array.from({ length: workers }, inlineTracer)
  await runSweep(all, lamp, axes, { seed: 1, rays }, (cell) => {
    cells[cell.index] = cell
    came.push(cell.index)
  })
  return { cells, came }
}

const axial = (cell: SweepCell | undefined) => cell!.reading!.figures.axialIntensityCd!

describe('a cell is a trace', () => {
  test.each([
    amount(['ideal lens', benchCheck(), 'lens.zMm', 195], ['searchlight', gannetHead(), 'lens.zMm', 1060]),
    ['no lens', stileLamp(), 'optics.collimator-20.fwhmDeg', 25],
  ] as [string, Lamp, string, number][])(
    '%s: the same seed and rays give the same figures, hot spots and findings',
    async (_, lamp, path, value) => {
      const axes = [{ path, values: [value] }] as const
      const { cells } = await swept(lamp, axes)
      const made = lampAt(lamp, axes, [value])
      const alone = { seed: 1, maxRays: RAYS, precision: 0, background: false, onlyLast: true }
      const sheet = (await traceLamp(makePool([inlineWorker()]), made.ok ? made.lamp : lamp, alone, () => {}))!
      const { figures, findings } = cells[0]!.reading!
      // The axis is joined with another number of backward rays, and what follows from it with it.
      const joined = ['axialIntensityCd', 'peakIntensityCd', 'beamDistanceM', 'beamAngleDeg', 'fieldAngleDeg']
      const follow = [...joined, 'spillOutsideBeam', 'spillOutsideField', 'patternContrast']
      for (const [name, figure] of Object.entries(sheet.figures)) {
        const swept = figures[name as keyof typeof figures]
        if (!follow.includes(name)) expect(swept, name).toEqual(figure)
        else expectWithin(swept!.value, figure.value, { se: Math.hypot(swept!.se, figure.se), sigmas: 4 })
      }
      for (const spot of ['front', 'face'] as const) {
        const there = sheet.hotSpots[spot]
        expect(figures[`hot.${spot}`]).toEqual(there && { value: there.kWm2, se: there.se })
      }
      const { value: cd, se } = figures.axialIntensityCd!
      expectWithin(cd, sheet.figures.axialIntensityCd!.value, {
        se: Math.hypot(se, sheet.figures.axialIntensityCd!.se),
        sigmas: 4,
      })
      const rules = (list: readonly { rule: string; severity: string }[]) => list.map((f) => `${f.severity} ${f.rule}`)
      expect(rules(findings)).toEqual(rules(sheet.findings))
    },
  )

  test('what it says depends neither on how many workers there are nor on the cells before it', async () => {
    // The searchlight's cells take ten times as long.
    const { lamp, zMm, path, values } = amount(
      { lamp: benchCheck(), zMm: [190, 210], path: 'emitters.one-die-5.currentA', values: [1, 2] },
      { lamp: gannetHead(), zMm: [1045, 1060], path: 'optics.collimator-12.fwhmDeg', values: [10, 14] },
    )
    const axes = [
      { path: 'lens.zMm', values: zMm },
      { path, values },
    ] as const
    const one = await swept(lamp, axes, { rays: 2048 })
    const three = await swept(lamp, axes, { workers: 3, rays: 2048 })
    expect(three.cells).toEqual(one.cells)
    expect(one.came).toEqual([0, 1, 2, 3])
    const last = lampAt(lamp, axes, [zMm[1]!, values[1]!])
    if (!last.ok) throw new Error(last.why)
    expect(await traceCell(last.lamp, { seed: 1, rays: 2048 })).toEqual(one.cells[3]!.reading)
  })
})

describe('by hand', () => {
  // A Lambertian square of side s at the focus f of an ideal lens of radius R: the lens takes in Φ sin²(atan R/f) and throws the square's
  // picture, (s/f)² sr. With Φ = 1000 lm, R = 100 mm, f = 200 mm, s = 2 mm: 200 lm into 1e-4 sr, 2 Mcd.
  test('Bench check over the distance of its lens: the axis is brightest at the focus, 2 Mcd there', async () => {
    const { cells } = await swept(benchCheck(), [{ path: 'lens.zMm', values: [180, 190, 200, 210, 220] }])
    const cd = cells.map((cell) => axial(cell).value)
    expect(cd.indexOf(Math.max(...cd))).toBe(2)
    const { value } = axial(cells[2])
    expectWithin(value, 2e6, { rel: 2e-4, because: 'tables of profiles hold a few parts in 100,000' })
  })

  // From distance L a point of the emitter leaves the rim of the lens at R (1/f − 1/L): the beam is that wide either side of the axis,
  // give or take half of the square's picture.
  test('off the focus the beam opens as thin lenses do', async () => {
    const { cells } = await swept(benchCheck(), [{ path: 'lens.zMm', values: [170, 240] }], { rays: 1 << 17 })
    for (const cell of cells) {
      const slope = Math.abs(100 / 200 - 100 / cell!.values[0]!)
      const fullDeg = (2 * Math.atan(slope) * 180) / Math.PI
      const { value, se } = cell!.reading!.figures.halfFluxAngleDeg!
      // A uniform disc in slope holds half its light within 1/√2 of its edge; the emitter lights the lens less towards its rim.
      expect(value).toBeLessThan(fullDeg / Math.SQRT2)
      expect(value + 3 * se).toBeGreaterThan(0.75 * (fullDeg / Math.SQRT2))
    }
  })

  test('flux goes with the current where no table says otherwise, to the bit: the same rays in every cell', async () => {
    const lamp = benchCheck()
    const plain = { ...lamp, emitterTypes: lamp.emitterTypes.map((e) => ({ ...e, fluxByCurrent: [] })) }
    const { cells } = await swept(plain, [{ path: 'emitters.one-die-5.currentA', values: [1, 2, 4] }], { rays: 4096 })
    const lm = cells.map((cell) => cell.reading!.figures.fluxOutLm!.value)
    expectWithin(lm[1]! / lm[0]!, 2, { rel: 1e-9, because: 'rounding' })
    expectWithin(lm[2]! / lm[0]!, 4, { rel: 1e-9, because: 'rounding' })
  })
})

describe('cells without light', () => {
  test('a lamp that can’t stand and a lamp that doesn’t shine say so', async () => {
    const { cells } = await swept(gannetHead(), [{ path: 'lens.zMm', values: [900, 1050] }], { rays: 4096 })
    expect(cells[0]).toMatchObject({
      reading: null,
      why: expect.stringContaining('into the tunnel that ends at 1040 mm'),
    })
    expect(cells[1]!.why).toBeNull()
    const dark = await swept(benchCheck(), [{ path: 'emitters.one-die-5.currentA', values: [0] }], { rays: 4096 })
    expect(dark.cells[0]).toMatchObject({ reading: null, why: NOTHING_SHINES })
  })
})

describe('the client', () => {
  const axes = [{ path: 'lens.zMm', values: [180, 190, 200, 210] }] as const

  test('a new sweep drops the old one; cells of the old one no longer come', async () => {
    const client = openSweepClient(undefined, inlineTracer, 1)
    const old: number[] = []
    const fresh: number[] = []
    const options = { seed: 1, rays: 1024 }
    const first = client.sweep(benchCheck(), axes, options, (cell) => {
      old.push(cell.index)
    })
    const second = client.sweep(benchCheck(), axes, options, (cell) => fresh.push(cell.index))
    expect([await first, await second]).toEqual([false, true])
    expect(old).toEqual([])
    expect(fresh).toEqual([0, 3, 1, 2])
    client.dispose()
  })

  test('stopped half way it keeps what has come', async () => {
    const client = openSweepClient(undefined, inlineTracer, 1)
    const came: number[] = []
    const whole = await client.sweep(benchCheck(), axes, { seed: 1, rays: 1024 }, (cell) => {
      came.push(cell.index)
      if (came.length === 2) client.stop()
    })
    expect({ whole, came }).toEqual({ whole: false, came: [0, 3] })
  })

  test('a hand that breaks fails the sweep in its words', async () => {
    const broken = () => ({ trace: () => Promise.reject(new Error('out of memory')), again() {}, close() {} })
    const client = openSweepClient(undefined, broken, 2)
    await expect(client.sweep(benchCheck(), axes, { seed: 1, rays: 1024 }, () => {})).rejects.toThrow('out of memory')
  })
})
