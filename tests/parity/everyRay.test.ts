// Lanes take the rays of a chunk in an order of their own: each ray once, wherever the chunk begins.
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { prepare } from '../../src/engine/gpu/gpuEngine.ts'
import { RECORD_FLOATS } from '../../src/engine/gpu/readBack.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { gridPlaces } from '../../src/num/places.ts'
import { BATCHES } from '../../src/run/types.ts'
import { sceneOf } from '../kit/traceHere.ts'
import { testDevice } from './bothEngines.ts'

let machine: Machine
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => machine?.device.destroy())

/** Several workgroups a batch, and no whole number of their blocks. */
const FROM = 37
const RAYS = 16_421

/** The hand lamp's light from a grid of so many emitters. */
function gridOf(side: number): Lamp {
  const lamp = stileLamp()
  const sites = gridPlaces(20, 20, 0.5, 0.5)
  const boards = Array.from({ length: Math.ceil((side * side) / sites.length) }, (_, i) => ({
    ...lamp.boards[0]!,
    id: `B${i}`,
    xMm: 0.1 * i,
  }))
  return { ...lamp, boardTypes: [{ ...lamp.boardTypes[0]!, sites }], boards }
}

test.each([
  ['few emitters', stileLamp()],
  ['so many that a workgroup keeps to one part of their table', gridOf(50)],
])('%s', async (_, lamp) => {
  const scene = sceneOf(lamp)
  const options = { seed: 5, plainRandom: false, exitsBelow: 0 }
  const prepared = await prepare(machine, scene, chooseShape(scene, lamp), options)
  if (!prepared.ok) throw new Error(prepared.why)
  const { records } = await prepared.gpuTracer.probe(FROM, FROM + RAYS)
  prepared.gpuTracer.close()
  expect(records.length).toBe(RAYS * BATCHES * RECORD_FLOATS)
  let empty = 0
  const seen = new Set<string>()
  for (let at = 0; at < records.length; at += RECORD_FLOATS) {
    if (!(records[at + 8]! > 0)) empty++
    seen.add(records.subarray(at, at + RECORD_FLOATS - 3).join())
  }
  expect(empty).toBe(0)
  // No ray stands in another's place: two of the same place, direction and colour are as good as none.
  expect(seen.size).toBeGreaterThan(0.999 * RAYS * BATCHES)
})
