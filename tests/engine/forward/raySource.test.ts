// A source of single rays through the whole forward tracer: against an emitter of the same light, in closed form, and against the kernel in WebAssembly.
import { describe, expect, test } from 'vitest'
import { backwardUnsupported } from '../../../src/engine/backward/sources.ts'
import { makeKernel } from '../../../src/engine/forward/kernel.ts'
import { fastKernel } from '../../../src/engine/forward/wasm/fastKernel.ts'
import { unsupported } from '../../../src/engine/gpu/gpuEngine.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { lensIndex } from '../../../src/library/lensMaterial.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { expectValid } from '../../../src/run/validate.ts'
import { compileSun } from '../../../src/scene/compile.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin } from '../../kit/expect.ts'
import { documentRays, lambertianRays, type TestRay } from '../../kit/rayFile.ts'
import { sameBits } from '../../kit/sameRun.ts'
import {
  axialCd,
  deliveredShare,
  endShare,
  exitShare,
  exitsOf,
  oneEmitter,
  sceneOf,
  traceHere,
  tube,
} from '../../kit/traceHere.ts'

const RAYS = amount(1 << 15, 1 << 17)

describe('rays of a Lambertian disc give the beam of a Lambertian disc', () => {
  const rays = documentRays(lambertianRays(32_768, 2))
  const source = { shape: 'disc', diameterMm: 2 } as const
  const lamps: [string, Parameters<typeof oneEmitter>[0]][] = [
    ['bare', { heightMm: 1 }],
    ['in a mirrored tunnel', { heightMm: 1, tunnel: tube(6, 40, { reflectance: 0.9 }) }],
    ['on a turned board, off the axis', { heightMm: 1, tunnel: tube(12, 40), sites: [{ xMm: 4, yMm: 2 }] }],
  ]
  test.each(lamps)('%s', (_, o) => {
    const [one, other] = [
      { ...o, source },
      { ...o, source, rays },
    ].map((of) => {
      const run = traceHere(oneEmitter(of), { rays: RAYS })
      expectValid(run, true)
      return { run, flux: deliveredShare(run) }
    }) as [
      { run: ReturnType<typeof traceHere>; flux: ReturnType<typeof deliveredShare> },
      { run: ReturnType<typeof traceHere>; flux: ReturnType<typeof deliveredShare> },
    ]
    expectWithin(other.flux.value, one.flux.value, { sigmas: 4, se: Math.hypot(one.flux.se, other.flux.se, 1e-9) })
    for (const [from, to] of [
      [0, 20],
      [20, 40],
      [40, 60],
      [60, 80],
    ] as const) {
      const within = (dz: number) => dz <= Math.cos((from * Math.PI) / 180) && dz > Math.cos((to * Math.PI) / 180)
      const [a, b] = [one, other].map(({ run }) => exitShare(run, (e) => within(e.dz))) as [
        { value: number; se: number },
        { value: number; se: number },
      ]
      expectWithin(b.value, a.value, { sigmas: 4, se: Math.hypot(a.se, b.se, 1e-5) })
    }
  })
  test('by the closed form: sin²θ of the light within θ', () => {
    const run = traceHere(oneEmitter({ heightMm: 1, axialConeHalfDeg: 5, source, rays }), { rays: RAYS })
    const share = exitShare(run, (e) => e.dz > Math.cos(Math.PI / 6))
    expectWithin(share.value, 0.25, { sigmas: 4, se: share.se })
    const axis = axialCd(run)
    expectWithin(axis.value, 1000 / Math.PI, { sigmas: 4, se: axis.se })
  })
  test('errors hold the chance of the rays: few rays, drawn often, leave a wide ±', () => {
    const few = documentRays(lambertianRays(640, 2))
    const many = exitShare(
      traceHere(oneEmitter({ heightMm: 1, source, rays: few }), { rays: RAYS }),
      (e) => e.dz > Math.cos(Math.PI / 6),
    )
    // Binomial of the 640 rays: √(0.25 · 0.75 / 640) = 0.0171; the error's own error is a fifth.
    expectWithin(many.se, 0.0171, { rel: 0.6, because: 'three errors of an error from 16 batches' })
    expectWithin(many.value, 0.25, { sigmas: 4, se: many.se })
  })
})

test('wavelengths reach the lens: each colour bent by its own index, by Snell’s law at the curved side', () => {
  const at = (nm: number): TestRay => ({ place: [10, 0, 0], direction: [0, 0, 1], nm })
  const lens = {
    kind: 'solid',
    diameterMm: 40,
    radiusMm: 60,
    conic: 0,
    thicknessMm: 12,
    zMm: 50,
    curved: 'target',
    material: 'pmma',
  } as const satisfies NonNullable<Lamp['lens']>
  const colours = [450, 550, 650]
  const lamp = oneEmitter({
    rays: documentRays(colours.flatMap((nm) => Array.from({ length: 32 }, () => at(nm)))),
    lens,
  })
  const exits = exitsOf(traceHere(lamp, { rays: 1 << 13 }))
  const bends = colours.map((nm) => {
    // Once through, without a reflection inside.
    const direct = exits.filter((e) => Math.abs(e.nm - nm) < 0.01 && e.dx < 0 && e.dx > -0.2 && e.weight > 0.5)
    expect(direct.length).toBeGreaterThan(1000)
    const slope = Math.asin(10 / 60)
    const bent = Math.asin((lensIndex(lens, nm) * 10) / 60) - slope
    for (const e of direct)
      expectWithin(Math.asin(-e.dx), bent, { abs: 1e-5, because: 'a table of indices, single precision' })
    return bent
  })
  expect(bends[0]! - bends[2]!).toBeGreaterThan(1e-3)
})

describe('where rays start and run', () => {
  test('under the face: it ends there, on the line of blocked light', () => {
    const run = traceHere(
      oneEmitter({
        heightMm: 1,
        rays: documentRays([
          { place: [0, 0, -2] },
          { place: [0, 0, 0] },
          { place: [0, 0, 1] },
          { place: [0, 0, -0.5] },
        ]),
      }),
      { rays: 1 << 12 },
    )
    expectValid(run, true)
    expectWithin(endShare(run, 'blocked').value, 0.25, { abs: 1e-9, because: 'a quarter of the weight, dealt evenly' })
    expectWithin(deliveredShare(run).value, 0.75, { abs: 1e-9, because: 'the rest' })
  })
  test('downwards: onto the face, which takes what it does not send back', () => {
    const down: TestRay = { place: [0, 0, 1], direction: [0.3, 0, -1] }
    for (const o of [{}, { tunnel: tube(20, 30) }]) {
      const run = traceHere(oneEmitter({ ...o, faceReflectance: 0.4, rays: documentRays([down, {}]) }), {
        rays: 1 << 13,
      })
      expectValid(run, true)
      const face = endShare(run, 'face')
      expectWithin(face.value, 0.3, {
        abs: 0.02,
        because: 'half of the light loses six tenths, more where the tube sends light back',
      })
      expect(exitsOf(run).every((e) => e.dz > 0)).toBe(true)
    }
  })
  test('beside the face: past it', () => {
    const run = traceHere(oneEmitter({ rays: documentRays([{ place: [80, 0, 1], direction: [0, 0.1, -1] }]) }), {
      rays: 1 << 12,
    })
    expectWithin(endShare(run, 'behindFace').value, 1, { abs: 1e-9, because: 'all of it' })
  })
})

type Traced = Record<'sums' | 'maps' | 'exits', Float32Array>

function mixed(seed: number): TestRay[] {
  const random = seededRandom(seed)
  return Array.from({ length: 3000 }, () => {
    const [c, a] = [1.2 * random() - 0.2, 2 * Math.PI * random()]
    const s = Math.sqrt(Math.max(0, 1 - c * c))
    return {
      place: [4 * random() - 2, 3 * random() - 1.5, 3 * random() - 1],
      direction: [s * Math.cos(a), s * Math.sin(a), Math.min(1, c)],
      watts: 0.1 + random(),
      nm: 420 + 260 * random(),
    }
  })
}

describe('the kernel in WebAssembly: the same bits', () => {
  const lens = { kind: 'ideal', diameterMm: 60, focalMm: 50, zMm: 55, transmittance: 0.9 } as unknown as NonNullable<
    Lamp['lens']
  >
  test.each([
    ['bare', {}],
    ['in a tunnel', { tunnel: tube(15, 40, { reflectance: 0.8, scatterDeg: 2 }) }],
    ['before a lens', { lens, tunnel: tube(15, 40, { reflectance: 0.8 }) }],
    ['with the emitter’s spectrum', { spectrum: { kind: 'white', classK: 4000 } as const, plainWaves: true }],
  ])('%s', (_, { plainWaves, ...o }: Parameters<typeof oneEmitter>[0] & { plainWaves?: boolean }) => {
    const rays = documentRays(mixed(4), plainWaves ? { ownWavelengths: false } : {})
    const lamp = oneEmitter({
      heightMm: 0.5,
      faceReflectance: 0.5,
      sites: [
        { xMm: 1, yMm: 2 },
        { xMm: -3, yMm: 0 },
      ],
      rays,
      ...o,
    })
    const scene = sceneOf(lamp)
    const shape = chooseShape(scene, lamp)
    const { size, windowLm } = tallyLayout(shape)
    const options = { seed: 5, plainRandom: false, exitsBelow: 40_000 }
    const traced = [makeKernel, fastKernel].map((make) => {
      const [sums, maps] = [new Float64Array(windowLm), new Float32Array(size - windowLm)]
      const exits = make(scene, shape, options).traceSplit(7, 0, 6000, sums, maps)
      return { sums, maps, exits }
    }) as unknown as [Traced, Traced]
    expect(traced[0].exits.length).toBeGreaterThan(1000)
    for (const key of ['sums', 'maps', 'exits'] as const)
      expect(sameBits(traced[0][key], traced[1][key]), key).toBe(true)
    // It does go through WebAssembly: the fast kernel's own method is another.
    expect(fastKernel(scene, shape, options).traceSplit).not.toBe(makeKernel(scene, shape, options).traceSplit)
  })
})

test('backward tracing and the device decline in words; the sun shines in as before', () => {
  const lamp = oneEmitter({ rays: documentRays([{}]) })
  const scene = sceneOf(lamp)
  expect(backwardUnsupported(scene)).toEqual([
    'An emitter’s light is single rays of a file: they are traced from their own end only.',
  ])
  const limits = { maxComputeWorkgroupStorageSize: 1 << 20, maxStorageBufferBindingSize: 1 << 30 } as GPUSupportedLimits
  const shape = chooseShape(scene, lamp)
  expect(unsupported(scene, shape, limits)).toEqual(['the single rays of an emitter’s ray file'])
  expect(unsupported(compileSun(scene, lamp, 2), shape, limits)).toEqual([])
})

test('a collimator by data sheet puts its own light in place of the rays', () => {
  const optic = {
    kind: 'collimator',
    id: 'c',
    name: '',
    exitDiameterMm: 10,
    heightMm: 5,
    fwhmDeg: 10,
    shape: 'gaussian',
    efficiency: 0.8,
  } as const
  const lamp = oneEmitter({ optic, rays: documentRays([{ nm: 450 }]) })
  expect(backwardUnsupported(sceneOf(lamp))).toEqual([])
  const run = traceHere(lamp, { rays: 1 << 12 })
  expect(exitsOf(run).every((e) => Math.abs(e.nm - 555) < 1)).toBe(true)
  expectWithin(run.emittedW, 1000 / 683.002, { rel: 1e-3, because: 'lumens at 555 nm' })
})

test('rays in a reflector cup: those of a point at its focus leave along the axis', () => {
  const optic = {
    kind: 'reflector',
    id: 'r',
    name: '',
    focalMm: 3,
    exitDiameterMm: 30,
    reflectance: 0.9,
    shiftXMm: 0,
    shiftYMm: 0,
    shiftZMm: 0,
  } as never
  const aside = Array.from({ length: 64 }, (_, i): TestRay => ({ direction: [Math.cos(i), Math.sin(i), 0.2] }))
  const run = traceHere(oneEmitter({ heightMm: 1, optic, rays: documentRays(aside) }), { rays: 1 << 12 })
  expectValid(run, true)
  expectWithin(deliveredShare(run).value, 0.9, { abs: 1e-6, because: 'one reflection' })
  for (const e of exitsOf(run)) expect(e.dz).toBeGreaterThan(0.9999)
})
