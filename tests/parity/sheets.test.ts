// Every figure of the sheet from both engines, the same rays traced by each.
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { prepare } from '../../src/engine/gpu/gpuEngine.ts'
import { solveOperatingPoint as plainPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { makeReader, sheetHeader } from '../../src/job/beam/read.ts'
import type { Sheet } from '../../src/job/beam/sheet.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE, type Run } from '../../src/run/types.ts'
import { findRunFaults } from '../../src/run/validate.ts'
import { amount } from '../kit/amount.ts'
import { sceneOf, traceScene } from '../kit/traceHere.ts'
import { testDevice } from './bothEngines.ts'

const RAYS = amount(1 << 15, 1 << 17)

let machine: Machine
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => machine?.device.destroy())

const NO_PATHS = {
  start: Uint32Array.of(0),
  xyz: new Float32Array(0),
  fate: new Uint8Array(0),
  emitter: new Uint32Array(0),
}
const OPTIONS = { seed: 3, maxRays: RAYS, precision: 0, background: false }

function sheetOf(lamp: Lamp, run: Run): Sheet {
  expect(findRunFaults(run)).toEqual([])
  const state = {
    engine: 'gpu' as const,
    seconds: 1,
    settled: true,
    sun: null,
    variants: [],
    axis: null,
    wanted: 0,
    aims: [],
  }
  const header = sheetHeader(lamp, plainPoint(lamp).fluxLm, OPTIONS.seed, 1)
  return runToEnd(makeReader(lamp, header, () => NO_PATHS).read(run, state))
}

async function runs(lamp: Lamp): Promise<[Run, Run]> {
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const cpu = traceScene(scene, shape, { rays: RAYS, seed: OPTIONS.seed })
  const options = { seed: OPTIONS.seed, plainRandom: false, exitsBelow: cpu.exits.fromRays }
  const prepared = await prepare(machine, scene, shape, options)
  if (!prepared.ok) throw new Error(prepared.why)
  // In two chunks, as a run in rounds does.
  const half = RAYS / BATCHES / 2
  const partials = [await prepared.gpuTracer.trace(0, half), await prepared.gpuTracer.trace(half, 2 * half)]
  prepared.gpuTracer.close()
  const { size, windowLm } = tallyLayout(shape)
  const tallies = cpu.tallies.map((_, batch) => {
    const sum = new Float64Array(size)
    for (const partial of partials) {
      for (let i = 0; i < windowLm; i++) sum[i]! += partial[batch]!.sums[i]!
      for (let i = windowLm; i < size; i++) sum[i]! += partial[batch]!.maps[i - windowLm]!
    }
    return sum
  })
  const rows = partials.flatMap((partial) => partial.map(({ exits }, batch) => ({ exits, batch })))
  const count = rows.reduce((sum, r) => sum + r.exits.length, 0) / EXIT_STRIDE
  const data = new Float32Array(count * EXIT_STRIDE)
  const batch = new Uint8Array(count)
  let at = 0
  for (const row of rows) {
    data.set(row.exits, at * EXIT_STRIDE)
    batch.fill(row.batch, at, at + row.exits.length / EXIT_STRIDE)
    at += row.exits.length / EXIT_STRIDE
  }
  return [cpu, { ...cpu, tallies, exits: { count, fromRays: cpu.exits.fromRays, data, batch } }]
}

test.each(['gannet-head', 'ice-rink', 'bench-check'])('%s: every figure within its error', async (id) => {
  const lamp = DEMOS[id]!()
  const [cpuRun, gpuRun] = await runs(lamp)
  const cpu = sheetOf(lamp, cpuRun)
  const gpu = sheetOf(lamp, gpuRun)
  expect(Object.keys(gpu.figures)).toEqual(Object.keys(cpu.figures))
  expect(gpu.absent).toEqual(cpu.absent)
  for (const [name, figure] of Object.entries(cpu.figures)) {
    const other = gpu.figures[name as keyof typeof gpu.figures]!
    // The same rays: far closer than chance would bring two runs.
    const allowed = Math.max(figure.se, 1e-5 * Math.abs(figure.value))
    expect(Math.abs(other.value - figure.value), `${name}: ${figure.value} ± ${figure.se}`).toBeLessThanOrEqual(allowed)
  }
  for (const [i, row] of cpu.ledger.entries()) {
    const other = gpu.ledger[i]!
    expect(other.line).toBe(row.line)
    expect(Math.abs(other.share.value - row.share.value), row.name).toBeLessThanOrEqual(Math.max(row.share.se, 1e-4))
  }
  for (const [name, spot] of Object.entries(cpu.hotSpots)) {
    const other = gpu.hotSpots[name as keyof typeof gpu.hotSpots]!
    expect(Math.abs(other.kWm2 - spot.kWm2), `hot spot ${name}`).toBeLessThanOrEqual(
      Math.max(2 * spot.se, 1e-3 * spot.kWm2),
    )
  }
})
