// A rectangular face and one by its corners on both engines: the same rays, forward and backward.
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { polygonFace } from '../../src/lamp/facePlate.ts'
import type { Face, Lamp } from '../../src/lamp/schema.ts'
import { FATES } from '../../src/run/types.ts'
import { lampWith } from '../kit/lampWith.ts'
import { sceneOf } from '../kit/traceHere.ts'
import { compareLooks, lookoutOf } from './bothBackward.ts'
import { compare, testDevice } from './bothEngines.ts'

const PER_BATCH = 160
/** A wall with flats and many bounces: of a hundred rays one may go another way by the last bit (rays.test.ts). */
const SAME = 0.99

/** A tunnel that narrows: light comes back to the face, and beside it. Wide bare emitters, so that backward rays meet them. */
function lampOn(face: Partial<Face>): Lamp {
  const lamp = lampWith({
    face: { reflectance: 0.9, keepOuts: [], ...face },
    boards: [{ id: 'B1', type: 'seven', xMm: 3, yMm: -4, turnDeg: 10, currentA: 1 }],
    tunnel: { inMm: 220, outMm: 70, zOutMm: 200, reflectance: 0.95, specularShare: 0.5 },
    lens: null,
  })
  for (const e of lamp.emitterTypes) e.source = { shape: 'disc', diameterMm: 10 }
  return { ...lamp, optic: 'bare' }
}

/** 24 teeth about an L: 53 corners. */
const saw: [number, number][] = [
  ...Array.from({ length: 47 }, (_, i): [number, number] => [-80 + (140 * i) / 46, i % 2 === 0 ? -70 : -60]),
  [60, 0],
  [-10, 0],
  [-10, 70],
  [-80, 70],
]
const OWN = polygonFace(saw)
const RECTANGLE = { shape: 'rectangle', sizeMm: 130, heightMm: 50 } as const

let machine: Machine
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => machine?.device.destroy())

test.each<[string, Partial<Face>]>([
  ['a rectangle', RECTANGLE],
  ['53 corners, the axis beside their middle', OWN],
])('%s, forward', async (_, face) => {
  const lamp = lampOn(face)
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const { rays, other, worst, gpuTracer, sums } = await compare(machine, scene, shape, PER_BATCH)
  gpuTracer.close()
  expect(rays - other, JSON.stringify(worst.slice(0, 3))).toBeGreaterThanOrEqual(SAME * rays)
  // Light falls beside it: the outline counts.
  const behind = FATES.indexOf('behindFace')
  for (const [batch, cpu] of sums.cpu.entries()) {
    expect(cpu[behind]!).toBeGreaterThan(1)
    expect(Math.abs(sums.gpu[batch]![behind]! - cpu[behind]!)).toBeLessThan(0.01 * PER_BATCH + other)
  }
})

test('53 corners, backward', async () => {
  const lamp = lampOn(OWN)
  const scene = sceneOf(lamp)
  const tracer = await lookoutOf(machine, scene, chooseShape(scene, lamp))
  const compared = await compareLooks(tracer, scene, { kind: 'band', fromRad: 0, toRad: 0.7 }, PER_BATCH)
  tracer.close()
  expect(compared.scored).toBeGreaterThan(40)
  expect(compared.rays - compared.other, JSON.stringify(compared.worst.slice(0, 3))).toBeGreaterThanOrEqual(
    SAME * compared.rays,
  )
})
