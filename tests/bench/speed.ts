// Sustained speed of the CPU engine on one core, per example lamp: rays per second, median of five stretches; beside it the reference in
// plain JavaScript, whose bits it has.

import { type Kernel, makeKernel } from '../../src/engine/forward/kernel.ts'
import { fastKernel } from '../../src/engine/forward/wasm/fastKernel.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { compile } from '../../src/scene/compile.ts'

export interface Speed {
  lamp: string
  raysPerSecond: number
  referencePerSecond: number
}

export function speedOf(lamp: Lamp, raysEach = 300_000): Speed {
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const shape = chooseShape(scene, lamp)
  const options = { seed: 1, plainRandom: false, exitsBelow: 0 }
  const size = tallyLayout(shape).size
  return {
    lamp: lamp.name,
    raysPerSecond: sustained(fastKernel(scene, shape, options), size, raysEach),
    referencePerSecond: sustained(makeKernel(scene, shape, options), size, raysEach),
  }
}

function sustained(kernel: Kernel, size: number, raysEach: number): number {
  const tally = new Float64Array(size)
  kernel.trace(0, 0, raysEach, tally)
  const speeds: number[] = []
  for (let i = 1; i <= 5; i++) {
    const from = process.cpuUsage().user // time on the core, so that a busy machine matters less
    kernel.trace(i, 0, raysEach, tally)
    speeds.push((1e6 * raysEach) / (process.cpuUsage().user - from))
  }
  return speeds.sort((a, b) => a - b)[2]!
}

export const exampleSpeeds = (): Speed[] => Object.values(DEMOS).map((make) => speedOf(make()))
