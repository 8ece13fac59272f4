// A face by its corners: ray by ray the face of the same shape by name, in every engine; and turned by 90°.
import { describe, expect, test } from 'vitest'
import { makeBackwardKernel, SUMS } from '../../../src/engine/backward/estimator.ts'
import { sourcesOf } from '../../../src/engine/backward/sources.ts'
import { makeKernel } from '../../../src/engine/forward/kernel.ts'
import { fastKernel } from '../../../src/engine/forward/wasm/fastKernel.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { faceCorners, polygonFace } from '../../../src/lamp/facePlate.ts'
import type { Face, Lamp } from '../../../src/lamp/schema.ts'
import * as P from '../../../src/optics/params.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { compileSun } from '../../../src/scene/compile.ts'
import { expectWithin } from '../../kit/expect.ts'
import { lampWith } from '../../kit/lampWith.ts'
import { sameBits } from '../../kit/sameRun.ts'
import { endShare, sceneOf, traceHere } from '../../kit/traceHere.ts'

/** A tunnel that narrows: light comes back to the face, and beside it. */
function lampOn(face: Partial<Face>): Lamp {
  const lamp = lampWith({
    face: { reflectance: 0.9, keepOuts: [], ...face },
    boards: [{ id: 'B1', type: 'seven', xMm: 3, yMm: -4, turnDeg: 10, currentA: 1 }],
    tunnel: { inMm: 220, outMm: 70, zOutMm: 200, reflectance: 0.95, specularShare: 0.5 },
    lens: null,
  })
  // Wide and bare, so that rays traced backwards meet them.
  for (const e of lamp.emitterTypes) e.source = { shape: 'disc', diameterMm: 10 }
  return { ...lamp, optic: 'bare' }
}

function traced(lamp: Lamp, make: typeof makeKernel) {
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const { size, windowLm } = tallyLayout(shape)
  const [sums, maps] = [new Float64Array(windowLm), new Float32Array(size - windowLm)]
  const exits = make(scene, shape, { seed: 5, plainRandom: false, exitsBelow: 40_000 }).traceSplit(
    2,
    0,
    4000,
    sums,
    maps,
  )
  return { sums, maps, exits }
}

const expectSame = (a: ReturnType<typeof traced>, b: ReturnType<typeof traced>) =>
  expect([sameBits(a.sums, b.sums), sameBits(a.maps, b.maps), sameBits(a.exits, b.exits)]).toEqual([true, true, true])

function looked(lamp: Lamp): Float64Array {
  const scene = sceneOf(lamp)
  const sums = new Float64Array(SUMS)
  const aim = { kind: 'band', fromRad: 0, toRad: 0.5 } as const
  makeBackwardKernel(scene, aim, 7, sourcesOf(scene)).traceBatch(1, 0, 2000, sums)
  return sums
}

/** 140 by 140 without its upper right quarter, off the axis. */
const L: [number, number][] = [
  [-80, -70],
  [60, -70],
  [60, 0],
  [-10, 0],
  [-10, 70],
  [-80, 70],
]

describe('the same face', () => {
  test.each<[string, Partial<Face>, Partial<Face>]>([
    ['a hexagon by its corners', { shape: 'hexagon', sizeMm: 120 }, {}],
    ['a square by its corners', { shape: 'square', sizeMm: 120 }, {}],
    ['a square as a rectangle', { shape: 'square', sizeMm: 120 }, { shape: 'rectangle', sizeMm: 120, heightMm: 120 }],
    ['a rectangle by its corners', { shape: 'rectangle', sizeMm: 130, heightMm: 70 }, {}],
  ])('%s', (_, face, other) => {
    const whole = { shape: 'round', sizeMm: 100, ...face } as Face
    const second = 'shape' in other ? other : polygonFace((faceCorners(whole) ?? []).toReversed())
    const [a, b] = [lampOn(face), lampOn(second)]
    expectSame(traced(a, makeKernel), traced(b, makeKernel))
    expect(sameBits(looked(a), looked(b))).toBe(true)
    // Not the same as any face.
    expect(sameBits(looked(a), looked(lampOn({ shape: 'round', sizeMm: 60 })))).toBe(false)
  })
})

test.each([
  ['rectangle', { shape: 'rectangle', sizeMm: 130, heightMm: 50 }],
  ['an L', polygonFace(L)],
] as const)('WebAssembly gives the same bits: %s', (_, face) => {
  const lamp = lampOn({ ...face })
  expectSame(traced(lamp, fastKernel), traced(lamp, makeKernel))
})

test('turned by 90° with its board: as much on the face and behind it', () => {
  const shares = [0, 90].map((turn) => {
    const corners = turn === 0 ? L : L.map(([x, y]): [number, number] => [-y, x])
    const lamp = lampOn(polygonFace(corners))
    if (turn === 90) lamp.boards[0] = { ...lamp.boards[0]!, xMm: 4, yMm: 3, turnDeg: 100 }
    const run = traceHere(lamp, { rays: 16_000, seed: 3 })
    return [endShare(run, 'face'), endShare(run, 'behindFace')]
  })
  for (const [i, a] of shares[0]!.entries()) {
    const b = shares[1]![i]!
    expect(a.value).toBeGreaterThan(0)
    expectWithin(a.value, b.value, { sigmas: 4, se: Math.hypot(a.se, b.se) })
  }
})

test('the sun on a bare face: a circle about it', () => {
  const sunOn = (face: Partial<Face>) => {
    const lamp = lampWith({ face: { keepOuts: [], ...face }, tunnel: null, lens: null })
    const scene = compileSun(sceneOf(lamp), lamp, 0)
    return { radius: scene.params[P.sunRadius]!, watts: scene.emittedW / lamp.reading.sunWm2 }
  }
  // Half of 120 and half of 50: 65 to a corner.
  const { radius, watts } = sunOn({ shape: 'rectangle', sizeMm: 120, heightMm: 50 })
  expect(radius).toBe(65)
  expectWithin(watts, Math.PI * 0.065 ** 2, { rel: 1e-9, because: 'rounding' })
  expectWithin(sunOn(polygonFace(L)).radius, Math.hypot(80, 70), { rel: 1e-6, because: 'single precision' })
})
