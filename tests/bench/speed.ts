// Sustained speed of the CPU engine on one core, per example lamp: rays per second, median of five stretches.

import { makeKernel } from '../../src/engine/cpu/kernel.ts'
import { operatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/shape.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { compile } from '../../src/scene/compile.ts'

export interface Speed {
  lamp: string
  raysPerSecond: number
}

export function speedOf(lamp: Lamp, raysEach = 300_000): Speed {
  const scene = compile(lamp, operatingPoint(lamp))
  const shape = chooseShape(scene, lamp)
  const kernel = makeKernel(scene, shape, { seed: 1, plainRandom: false, exitsBelow: 0 })
  const tally = new Float64Array(tallyLayout(shape).size)
  kernel.trace(0, 0, raysEach, tally)
  const speeds: number[] = []
  for (let i = 1; i <= 5; i++) {
    const from = process.cpuUsage().user // time on the core, so that a busy machine matters less
    kernel.trace(i, 0, raysEach, tally)
    speeds.push((1e6 * raysEach) / (process.cpuUsage().user - from))
  }
  return { lamp: lamp.name, raysPerSecond: speeds.sort((a, b) => a - b)[2]! }
}

export const exampleSpeeds = (): Speed[] => Object.values(DEMOS).map((make) => speedOf(make()))
