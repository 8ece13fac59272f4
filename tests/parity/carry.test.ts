// The fixed-point sums of the shader, driven past their low word: a bin that takes more than 2³² steps loses none of them.
import { afterAll, beforeAll, expect, test } from 'vitest'
import {
  COPY_DST,
  COPY_SRC,
  FOR_READING,
  MAP_READ,
  type Machine,
  STORAGE,
  UNIFORM,
} from '../../src/engine/gpu/device.ts'
import { wide } from '../../src/engine/gpu/readBack.ts'
import { COUNT_FIELDS, PARAM_VECTORS, SETUP_WORDS, TABLE_FIELDS } from '../../src/engine/gpu/setup.ts'
import { traceShader } from '../../src/engine/gpu/shaderText.ts'
import { testDevice } from './bothEngines.ts'

let machine: Machine
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => machine?.device.destroy())

const ROUNDS = 1500
const THREADS = 64
/** Each thread writes twice the full weight onto the same places: onto a map, onto a line (and a third of it back), onto a profile. */
const HAMMER = `
@compute @workgroup_size(${THREADS})
fn hammer(@builtin(local_invocation_index) lane: u32) {
  tallyBase = 0u;
  copyNow = lane % COPIES;
  for (var i = lane; i < LINES * COPIES; i += ${THREADS}u) { atomicStore(&lines[i], 0u); }
  for (var i = lane; i < LINES; i += ${THREADS}u) { atomicStore(&linesHigh[i], 0u); }
  for (var i = lane; i < BINS; i += ${THREADS}u) {
    atomicStore(&head[i], 0u);
    atomicStore(&headHigh[i], 0u);
  }
  workgroupBarrier();
  for (var i = 0u; i < ${ROUNDS}u; i++) {
    addMap(5u, 16777216u);
    addMap(8u, 1u);
    addMap(9u, 1u);
    addLine(1u, 16777215);
    if (i % 3u == 0u) { addLine(1u, -16777216); }
    addHead(2u, 11190305u);
  }
  // The last of all wraps, in one lane: nothing comes after it that would carry it.
  addMap(10u, 1u);
  carryMap();
  workgroupBarrier();
  addGathered(lane, ${THREADS}u);
}
`

test('96,000 times twice the full weight in one bin, 375 times round the low word; single steps onto sums near the end of their range', async () => {
  const { device } = machine
  const setup = new ArrayBuffer(4 * SETUP_WORDS)
  const module = device.createShaderModule({ code: traceShader(0) + HAMMER })
  // Lines: 4 places, then 3 of the profiles, then the maps.
  const pipeline = await device.createComputePipelineAsync({
    layout: 'auto',
    compute: { module, entryPoint: 'hammer', constants: { LINES: 4, BINS: 3 } },
  })
  const words = 64
  const setupBuffer = device.createBuffer({ size: setup.byteLength, usage: UNIFORM | COPY_DST })
  new Uint32Array(setup)[4 * PARAM_VECTORS + TABLE_FIELDS.length + COUNT_FIELDS.indexOf('profileLm')] = 4
  device.queue.writeBuffer(setupBuffer, 0, setup)
  const tallies = device.createBuffer({ size: 4 * words, usage: STORAGE | COPY_SRC | COPY_DST })
  // Sums as twenty thousand million rays of full weight leave them in one bin, and all but full: single steps still count. And one that the last
  // of its additions takes past its low word.
  const planted = [
    10n ** 10n * 2n ** 24n + 2n ** 32n - 7n,
    2n ** 63n - 1n - BigInt(ROUNDS * THREADS),
    2n ** 32n - BigInt(THREADS),
  ] as const
  const two = (value: bigint) => [Number(value & 0xffffffffn), Number(value >> 32n)]
  device.queue.writeBuffer(tallies, 4 * 2 * 8, Uint32Array.from(planted.flatMap(two)))
  const back = device.createBuffer({ size: 4 * words, usage: MAP_READ | COPY_DST })
  const group = device.createBindGroup({
    layout: pipeline.getBindGroupLayout(0),
    entries: [
      { binding: 0, resource: { buffer: setupBuffer } },
      { binding: 4, resource: { buffer: tallies } },
    ],
  })
  const encoder = device.createCommandEncoder()
  const pass = encoder.beginComputePass()
  pass.setPipeline(pipeline)
  pass.setBindGroup(0, group)
  pass.dispatchWorkgroups(1)
  pass.end()
  encoder.copyBufferToBuffer(tallies, 0, back, 0, 4 * words)
  device.queue.submit([encoder.finish()])
  await back.mapAsync(FOR_READING)
  const got = new Uint32Array(back.getMappedRange())
  const place = (i: number) => wide(got[2 * i]!, got[2 * i + 1]!)
  const calls = ROUNDS * THREADS
  const exact = (i: number) => BigInt(got[2 * i]!) + (BigInt(got[2 * i + 1]! | 0) << 32n)
  expect(exact(8)).toBe(planted[0] + BigInt(calls))
  expect(exact(9)).toBe(2n ** 63n - 1n)
  expect(exact(10)).toBe(2n ** 32n)
  expect(place(5)).toBe(calls * 16777216)
  expect(place(1)).toBe(calls * 16777215 - (calls / 3) * 16777216)
  expect(place(4 + 2)).toBe(calls * 11190305)
  expect(place(5)).toBeGreaterThan(370 * 2 ** 32)
})
