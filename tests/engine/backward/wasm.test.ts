// The backward kernel in WebAssembly against the reference in TypeScript: the same sums to the bit, whatever lamp and aim.
import { expect, test } from 'vitest'
import type { Aim } from '../../../src/engine/backward/aim.ts'
import { makeBackwardKernel, SUM_HITS, SUMS } from '../../../src/engine/backward/estimator.ts'
import { backwardUnsupported, type Sources, sourcesOf } from '../../../src/engine/backward/sources.ts'
import { fastBackwardKernel } from '../../../src/engine/backward/wasm/fastKernel.ts'
import { backwardMachine } from '../../../src/engine/backward/wasm/instance.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import type { Scene } from '../../../src/scene/scene.ts'
import { amount } from '../../kit/amount.ts'
import { seeds } from '../../kit/expect.ts'
import { otherMaterial, randomLamp } from '../../kit/randomLamp.ts'
import { sameBits } from '../../kit/sameRun.ts'
import { GREEN, oneEmitter, sceneOf, tube } from '../../kit/traceHere.ts'

const DEG = Math.PI / 180
const AIMS: readonly Aim[] = [
  { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: 0.25 * DEG },
  { kind: 'cone', thetaRad: 3 * DEG, phiRad: 0.7, halfRad: DEG },
  { kind: 'ring', thetaRad: 0.5 * DEG, halfRad: 0.25 * DEG },
  { kind: 'ring', thetaRad: 50 * DEG, halfRad: 2 * DEG },
  { kind: 'band', fromRad: 0, toRad: 80 * DEG },
  { kind: 'disc', xMm: 0, yMm: 0, zMm: 20_000, discMm: 300 },
  { kind: 'disc', xMm: 40, yMm: -25, zMm: 2500, discMm: 400 },
]
const RAYS = 600

type Make = (scene: Scene, aim: Aim, seed: number, sources: Sources) => ReturnType<typeof makeBackwardKernel>

function sumsOf(make: Make, scene: Scene, aim: Aim): Float64Array {
  const kernel = make(scene, aim, 11, sourcesOf(scene))
  const sums = new Float64Array(SUMS)
  // In two pieces, of which the second begins in the middle of the sequence.
  kernel.traceBatch(3, 0, 100, sums)
  kernel.traceBatch(3, 100, RAYS, sums)
  return Float64Array.of(...sums, kernel.perLm, kernel.perW)
}

/** Gives how many rays have met an emitter, over all aims. */
function expectSameBits(lamp: Lamp): number {
  const scene = sceneOf(lamp)
  if (backwardUnsupported(scene).length > 0) return 0
  let hits = 0
  for (const aim of AIMS) {
    const fast = sumsOf(fastBackwardKernel, scene, aim)
    expect(sameBits(fast, sumsOf(makeBackwardKernel, scene, aim)), JSON.stringify(aim)).toBe(true)
    hits += fast[SUM_HITS]!
  }
  return hits
}

test.each(Object.keys(DEMOS))('%s: the same bits', (id) => expect(expectSameBits(DEMOS[id]!())).toBeGreaterThan(100))

/** Sources whose tables are in the kernel's memory: those of the scene that WebAssembly has traced last. */
const tracedLast = () => backwardMachine()!.user

test.each(seeds(amount(40, 600)))('random lamp %i: the same bits', (seed) => {
  const lamp = randomLamp(seed)
  expectSameBits(seed % 3 === 0 ? otherMaterial(lamp, seed) : lamp)
})

test('the random lamps go both ways: through WebAssembly and, with cups and maps, around it', () => {
  const through = Array.from({ length: 60 }, (_, i) => sceneOf(randomLamp(i + 1)))
    .filter((scene) => backwardUnsupported(scene).length === 0)
    .map((scene) => {
      sumsOf(fastBackwardKernel, scene, AIMS[0]!)
      return tracedLast() === sourcesOf(scene)
    })
  expect(through.filter((is) => is).length).toBeGreaterThan(20)
  expect(through.filter((is) => !is).length).toBeGreaterThan(3)
})

/** A second board of emitters with another spectrum, profile and height, and sites so near each other that more than a dozen overlap. */
function twoKinds(): Lamp {
  const near = Array.from({ length: 20 }, (_, i) => ({ xMm: 0.05 * i, yMm: -0.03 * i, turnDeg: 7 * i }))
  const source = { shape: 'rectangle', widthMm: 6, heightMm: 4 } as const
  const lamp = oneEmitter({ sites: near, source, faceReflectance: 0.7, faceSizeMm: 90, tunnel: wall, spectrum: GREEN })
  const [first] = lamp.emitterTypes
  const second = { ...first!, id: 'e2', heightMm: 2, spectrum: { kind: 'white', classK: 3000 } as const }
  const third = { ...second, id: 'e3', spectrum: { kind: 'white', classK: 6500 } as const }
  const typeOf = (id: string, emitter: string) => ({ ...lamp.boardTypes[0]!, id, emitter, sites: [{ xMm: 2, yMm: 3 }] })
  lamp.emitterTypes.push(second, third)
  lamp.boardTypes.push(typeOf('b2', 'e2'), typeOf('b3', 'e3'))
  for (const [i, type] of ['b2', 'b3'].entries())
    lamp.boards.push({ id: `B${i + 2}`, type, xMm: 15 * (i + 1), yMm: -10, turnDeg: 40, currentA: 1 })
  return lamp
}
const wall = { ...tube(22, 40), zInMm: 5, reflectance: 0.9, specularShare: 0.8, scatterDeg: 2 }

test('several spectra, heights and emitters that overlap: the same bits', () => {
  expect(expectSameBits(twoKinds())).toBeGreaterThan(100)
  expect(tracedLast()).not.toBeNull()
})

test('a polygonal face, and emitters beside its middle: the same bits', () => {
  const lamp = { ...DEMOS['gannet-head']!() }
  const corners: [number, number][] = [
    [-150, -140],
    [160, -120],
    [120, 150],
    [-20, 40],
    [-140, 130],
  ]
  lamp.face = { ...lamp.face, shape: 'polygon', corners }
  expect(expectSameBits(lamp)).toBeGreaterThan(100)
})

test('lamps and aims in turn don’t mix their tables', () => {
  const scenes = [sceneOf(DEMOS['gannet-head']!()), sceneOf(twoKinds()), sceneOf(DEMOS['ice-rink']!())]
  const made = scenes.flatMap((scene) =>
    AIMS.map((aim) => {
      const kernels = [fastBackwardKernel, makeBackwardKernel].map((make) => make(scene, aim, 5, sourcesOf(scene)))
      return kernels.map((kernel) => ({ kernel, sums: new Float64Array(SUMS) }))
    }),
  )
  for (const batch of [0, 1, 2])
    for (const pair of made) {
      for (const { kernel, sums } of pair) kernel.traceBatch(batch, 50 * batch, 50 * batch + 100, sums)
      expect(sameBits(pair[0]!.sums, pair[1]!.sums)).toBe(true)
    }
})

test('a lamp with large tables finds room', () => {
  const sites = Array.from({ length: 10_000 }, (_, i) => ({ xMm: (i % 100) / 10, yMm: Math.floor(i / 100) / 10 }))
  expectSameBits(oneEmitter({ sites, tunnel: wall, faceReflectance: 0.5 }))
})
