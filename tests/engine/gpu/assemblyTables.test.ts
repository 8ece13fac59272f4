// What an assembled scene adds to the device's tables, and which of them the device takes.
import { expect, test } from 'vitest'
import { assemblyRows, MOST_ELEMENTS, makeOfElements } from '../../../src/engine/gpu/assemblyTables.ts'
import { unsupported } from '../../../src/engine/gpu/gpuEngine.ts'
import { LM_STEP, sumsOf, W_STEP } from '../../../src/engine/gpu/readBack.ts'
import { assembledShader, traceShader } from '../../../src/engine/gpu/shaderText.ts'
import { shapeWithoutMaps } from '../../../src/job/beam/pilot.ts'
import type { Element, Joint, Lamp, Tunnel } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import * as ELEMENT from '../../../src/optics/elementRow.ts'
import * as P from '../../../src/optics/params.ts'
import * as RING from '../../../src/optics/ringRow.ts'
import * as STRETCH from '../../../src/optics/stretchRow.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import type { Assembly } from '../../../src/scene/scene.ts'
import { sceneOf } from '../../kit/traceHere.ts'

const base = gannetHead()
const tube = base.tunnel as Tunnel
const finish = { reflectance: 0.9, specularShare: 1, scatterDeg: 0 }
const cover: Element = {
  name: 'Cover',
  kind: 'cover',
  zMm: 1045,
  diameterMm: 560,
  aperture: 'square',
  thicknessMm: 3,
  material: 'pmma',
}

/** Between these heights the tunnel is so wide below and above the joints; it begins at 0 and is 500 high. */
const profiled = (inMm: number, outMm: number, joints: [number, number, number][]): Lamp => ({
  ...base,
  tunnel: {
    ...tube,
    zInMm: 0,
    zOutMm: 500,
    inMm,
    outMm,
    joints: joints.map(([zMm, belowMm, aboveMm]): Joint => ({ zMm, belowMm, aboveMm, ...finish })),
  },
})
const assemblyOf = (lamp: Lamp): Assembly => {
  const { assembly } = sceneOf(lamp)
  if (!assembly) throw new Error('a plain lamp')
  return assembly
}

/** Floats of the uniform: nine elements of 28, their parameters, then stretches of 20 (shaders/kernels/assembly.wgsl). */
const STRETCHES_AT = MOST_ELEMENTS * (ELEMENT.size + 4 + P.size)

test('stretches are taken together as far as they are convex: each opens no faster than the one below, and there is no step', () => {
  // Slopes 0.5, 0.4, 0.4 | a step | 0.1, then 0.3: worked out by hand.
  const lamp = profiled(100, 310, [
    [100, 200, 200],
    [200, 280, 280],
    [300, 360, 230],
    [400, 250, 250],
  ])
  const rows = assemblyRows(assemblyOf(lamp))
  const words = new Uint32Array(rows.buffer)
  const of = (field: number) => Array.from({ length: 5 }, (_, i) => words[STRETCHES_AT + 20 * i + field])
  expect(of(0)).toEqual([2, 2, 2, 3, 4])
  expect(of(1)).toEqual([0, 0, 0, 3, 4])
  const steps = Array.from({ length: 5 }, (_, i) => rows[STRETCHES_AT + 20 * i + STRETCH.rhoTable])
  expect(steps).toEqual([0, 0, 1, 0, 0])
  expect(rows[STRETCHES_AT + 20 * 3 + STRETCH.rIn]).toBe(115)
})

test('a straight tunnel cut in pieces is one convex body, whatever rounding makes of its slopes', () => {
  const at = (zMm: number): [number, number, number] => [zMm, 100 + zMm * 0.3337, 100 + zMm * 0.3337]
  const words = new Uint32Array(assemblyRows(assemblyOf(profiled(100, 266.85, [at(71), at(222), at(349)]))).buffer)
  expect([0, 1, 2, 3].map((i) => words[STRETCHES_AT + 20 * i])).toEqual([3, 3, 3, 3])
})

test('elements: rows as they are, the rings of each, and what the shader is made for', () => {
  const lens = { ...base.lens, aperture: 'square', centreXMm: 10 } as Lamp['lens']
  const second = { ...base.lens, name: 'Second', zMm: 1100, tiltXDeg: 5, pitchMm: 2 } as Element
  const assembly = assemblyOf({ ...base, lens, elements: [cover, second] })
  const rows = assemblyRows(assembly)
  const words = new Uint32Array(rows.buffer)
  const size = ELEMENT.size + 4
  const ringsOfFirst = assembly.elementParams[P.size + P.lensRings]
  for (let e = 0; e < 3; e++) {
    expect(rows.slice(e * size, e * size + ELEMENT.size)).toEqual(
      assembly.elements.slice(e * ELEMENT.size, (e + 1) * ELEMENT.size),
    )
    expect(words[e * size + ELEMENT.size + 1]).toBe(assembly.elementParams[e * P.size + P.lensRings])
  }
  // A cover holds one empty record.
  expect([0, 1, 2].map((e) => words[e * size + ELEMENT.size])).toEqual([0, 1, 1 + (ringsOfFirst as number)])
  expect(assembly.rings.length / RING.size).toBe(1 + (ringsOfFirst as number) + 140)
  expect(rows[2 * size + ELEMENT.size + 2]).toBe(0.5)
  // Kinds 4, 3, 3 from the lowest bits on; the last is turned; it alone is round.
  expect(makeOfElements(assembly)).toEqual({
    solid: false,
    grooved: true,
    constants: { ELEMENT_KINDS: 4 + 8 * 3 + 64 * 3, TURNED: 4, ROUND_PIECES: 4 },
  })
})

test('the ledger by part is read back in its two units', () => {
  const lamp = { ...base, elements: [cover] }
  const layout = tallyLayout(shapeWithoutMaps(sceneOf(lamp), lamp))
  const words = new Uint32Array(2 * layout.windowLm)
  words[2 * layout.partsW] = 3
  words[2 * layout.partsLm] = 5
  words[2 * (layout.windowLm - 1) + 1] = 1
  const sums = sumsOf(words, layout)
  expect(sums[layout.partsW]).toBe(3 * W_STEP)
  expect(sums[layout.partsLm]).toBe(5 * LM_STEP)
  expect(sums[layout.windowLm - 1]).toBe(2 ** 32 * LM_STEP)
})

test('the device takes assembled lamps, but for more stretches than a workgroup’s memory holds the ledger of', () => {
  const limits = { maxComputeWorkgroupStorageSize: 16_384, maxStorageBufferBindingSize: 2 ** 27 } as GPUSupportedLimits
  const lacks = (count: number) => {
    const joints = Array.from({ length: count }, (_, i): [number, number, number] => [i + 1, 100, 100])
    const lamp = profiled(100, 100, joints)
    return unsupported(sceneOf(lamp), shapeWithoutMaps(sceneOf(lamp), lamp), limits)
  }
  expect(lacks(100)).toEqual([])
  expect(lacks(400)).toEqual(['so many stretches of a tunnel'])
})

test('a plain lamp’s shader holds nothing of an assembly', () => {
  for (const kind of [0, 1, 2, 3]) expect(traceShader(kind)).not.toMatch(/assemblyRows|passCover|addPart\(/)
  expect(assembledShader(false, true)).not.toContain('fn toConic')
  expect(assembledShader(true, false)).toContain('fn toConic')
})
