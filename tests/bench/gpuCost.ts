// What a ray costs, counted: the tracer's own shader with a counter at each kind of step, times operations counted by hand in its text.
// A floating-point or whole-number operation of a lane is one, a multiplication with addition too (it is one instruction); square root,
// division and logarithm are four each, so much slower is the unit that makes them.

import type { Machine } from '../../src/engine/gpu/device.ts'
import { COPY_DST, COPY_SRC, FOR_READING, MAP_READ, STORAGE, UNIFORM } from '../../src/engine/gpu/device.ts'
import { constantsOf, waitingBytes, workgroupOf } from '../../src/engine/gpu/pipeline.ts'
import { sceneTables } from '../../src/engine/gpu/sceneTables.ts'
import { packChunk, packSetup } from '../../src/engine/gpu/setup.ts'
import { traceShader } from '../../src/engine/gpu/shaderText.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import * as P from '../../src/optics/params.ts'
import { scrambledNumbers } from '../../src/optics/sobol.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'

/** Where a counter stands, the operations of one passage there, the bytes it moves to and from the device's memory. */
const STEPS = [
  { name: 'birth', mark: 'fn emitRay() -> u32 {', operations: 300, bytes: 0 },
  { name: 'to the lens or wall', mark: 'fn crossGapBelow() -> u32 {', operations: 50, bytes: 0 },
  { name: 'in the tunnel', mark: 'fn crossTunnel() -> u32 {', operations: 30, bytes: 0 },
  { name: 'wall', mark: 'fn meetWall() -> u32 {', operations: 200, bytes: 0 },
  { name: 'straight through the lens', mark: 'fn enterLens() -> u32 {', operations: 260, bytes: 0 },
  { name: 'surface of a groove', mark: 'fn stepFresnel(state: u32) -> u32 {', operations: 150, bytes: 0 },
  { name: 'delivered', mark: 'fn bookDelivered(line: u32) {', operations: 100, bytes: 0 },
  { name: 'bin of a map', mark: 'fn addMap(at: u32, v: u32) {', operations: 8, bytes: 8 },
  { name: 'line or profile', mark: 'fn addLine(at: u32, steps: i32) {', operations: 10, bytes: 0 },
  { name: 'draw', mark: 'fn draw24() -> u32 {', operations: 12, bytes: 0 },
  { name: 'set aside and taken up', mark: 'fn setAside(zone: u32, steps: u32) {', operations: 90, bytes: 128 },
] as const

export interface RayCost {
  rows: { step: string; 'a ray': number; operations: number; bytes: number }[]
  operations: number
  bytes: number
}

const round = (x: number) => Math.round(1000 * x) / 1000

export async function rayCost(machine: Machine, lamp: Lamp): Promise<RayCost> {
  const counts = await countSteps(machine, lamp)
  const rows = STEPS.map(({ name, operations, bytes }, i) => ({
    step: name,
    'a ray': round(counts[i]!),
    operations: Math.round(counts[i]! * operations),
    bytes: Math.round(10 * counts[i]! * bytes) / 10,
  }))
  const sum = (of: (row: (typeof rows)[number]) => number) => rows.reduce((total, row) => total + of(row), 0)
  return { rows, operations: sum((row) => row.operations), bytes: Math.round(10 * sum((row) => row.bytes)) / 10 }
}

/** The tracer's text with its counters, which each thread leaves in the records' buffer. */
function countingShader(lensKind: number): string {
  let text = traceShader(lensKind)
  for (const [i, { mark }] of STEPS.entries()) {
    if (!text.includes(mark)) throw new Error(`bench: the shader has no ${mark}`)
    text = text.replace(mark, `${mark}\n  counted[${i}] += 1u;`)
  }
  const end = '  addEmitted();\n'
  if (!text.includes(end)) throw new Error('bench: the shader ends otherwise')
  const leave = STEPS.map(
    (_, i) => `  records[(group.x * WORKGROUP + lane) * ${STEPS.length}u + ${i}u].x = f32(counted[${i}]);\n`,
  )
  return `var<private> counted: array<u32, ${STEPS.length}>;\n${text.replace(end, end + leave.join(''))}`
}

const EACH = 1 << 15

async function countSteps({ device }: Machine, lamp: Lamp): Promise<number[]> {
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const shape = chooseShape(scene, lamp)
  const layout = tallyLayout(shape)
  const tables = sceneTables(scene)
  const lanes = workgroupOf(device)
  const log2Threads = Math.log2(lanes)
  const threads = BATCHES * lanes
  const code = countingShader(scene.params[P.lensKind]!)
  const module = device.createShaderModule({ code })
  const constants = constantsOf(device, scene, shape, false)
  const pipeline = await device.createComputePipelineAsync({
    layout: 'auto',
    compute: { module, entryPoint: 'main', constants },
  })
  const room = (size: number, usage: number) => device.createBuffer({ size, usage })
  const filled = (usage: number, data: ArrayBufferView<ArrayBuffer> | ArrayBuffer) => {
    const buffer = room(data.byteLength, usage | COPY_DST)
    device.queue.writeBuffer(buffer, 0, data)
    return buffer
  }
  const scrambles = new Int32Array(198 * BATCHES)
  for (let batch = 0; batch < BATCHES; batch++) scrambles.set(scrambledNumbers(1, batch), 198 * batch)
  const words = { seed: 1, begin: 0, start: 0, end: EACH, log2Threads, recordsBelow: 0, recordAll: 0, goesOn: 0 }
  const recordBytes = 16 * threads * STEPS.length
  const records = room(recordBytes, STORAGE | COPY_SRC)
  const back = room(recordBytes, MAP_READ | COPY_DST)
  const buffers = [
    filled(UNIFORM, packSetup(scene, shape, tables.starts)),
    filled(UNIFORM, packChunk(words)),
    filled(STORAGE, tables.data),
    filled(STORAGE, scrambles),
    room(8 * layout.size * BATCHES, STORAGE),
    records,
    room(waitingBytes(scene, threads), STORAGE),
    filled(STORAGE, tables.quads),
    filled(STORAGE, tables.pairs),
  ]
  const entries = buffers.map((buffer, binding) => ({ binding, resource: { buffer } }))
  const encoder = device.createCommandEncoder()
  const pass = encoder.beginComputePass()
  pass.setPipeline(pipeline)
  pass.setBindGroup(0, device.createBindGroup({ layout: pipeline.getBindGroupLayout(0), entries }))
  pass.dispatchWorkgroups(threads / lanes)
  pass.end()
  encoder.copyBufferToBuffer(records, 0, back, 0, recordBytes)
  device.queue.submit([encoder.finish()])
  await back.mapAsync(FOR_READING)
  const got = new Float32Array(back.getMappedRange())
  const sums = STEPS.map((_, i) => {
    let sum = 0
    for (let t = 0; t < threads; t++) sum += got[4 * (t * STEPS.length + i)]!
    return sum / (EACH * BATCHES)
  })
  for (const buffer of [...buffers, back]) buffer.destroy()
  return sums
}
