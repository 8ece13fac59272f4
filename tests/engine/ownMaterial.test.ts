// A lens's own material in the tracers: a copy of a built-in one gives the same bits, absorption follows the wavelength.
import { describe, expect, test } from 'vitest'
import { makeKernel } from '../../src/engine/forward/kernel.ts'
import { fastKernel } from '../../src/engine/forward/wasm/fastKernel.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { OwnMaterial } from '../../src/lamp/material.ts'
import type { FresnelLens, Lamp, SolidLens } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { absorptionPerMm, refractiveIndex } from '../../src/library/materials.ts'
import * as P from '../../src/optics/params.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import type { Scene } from '../../src/scene/scene.ts'
import { expectWithin } from '../kit/expect.ts'
import { otherMaterial, randomLamp } from '../kit/randomLamp.ts'
import { sameBits } from '../kit/sameRun.ts'
import { atAngle, exitsOf, oneEmitter, sceneOf, traceHere } from '../kit/traceHere.ts'

const GRID = Array.from({ length: 81 }, (_, i) => 380 + 5 * i)
const COPY: OwnMaterial = {
  name: 'Acrylic by its table',
  family: 'plastic',
  index: {
    by: 'table',
    rows: GRID.map((wavelengthNm) => ({ wavelengthNm, index: refractiveIndex('pmma', wavelengthNm) })),
  },
  absorption: { by: 'value', perMm: absorptionPerMm('pmma') },
  densityKgM3: 1190,
  keepBelowC: 70,
  deflectionC: 95,
  ignitionC: 278,
}
const FRESNEL: FresnelLens = {
  ...{ kind: 'fresnel', zMm: 100, focalMm: 100, diameterMm: 120, aperture: 'round', thicknessMm: 3, pitchMm: 1 },
  ...{ grooves: 'target', draftDeg: 3, tipShare: 0.02, material: 'pmma', designNm: 590 },
}
const lampOf = (lens: FresnelLens | SolidLens): Lamp =>
  oneEmitter({ source: { shape: 'disc', diameterMm: 5 }, spectrum: { kind: 'white', classK: 5000 }, lens })

describe('acrylic given by a table of its own', () => {
  const own = lampOf({ ...FRESNEL, material: 'own', ownMaterial: COPY })
  test('the scene is acrylic’s, to the bit', () => expect(sceneOf(own)).toEqual(sceneOf(lampOf(FRESNEL))))
  test('by one value or the same at two wavelengths: the same run', () => {
    const perMm = absorptionPerMm('pmma')
    const rows = [400, 700].map((wavelengthNm) => ({ wavelengthNm, perMm }))
    const table = { ...COPY, absorption: { by: 'table' as const, rows } }
    const varies = traceHere(lampOf({ ...FRESNEL, material: 'own', ownMaterial: table }), { rays: 4096 })
    const one = traceHere(own, { rays: 4096 })
    for (const [i, tally] of varies.tallies.entries()) expect(sameBits(tally, one.tallies[i]!)).toBe(true)
    expect(sceneOf(lampOf({ ...FRESNEL, material: 'own', ownMaterial: table })).params[P.lensAbsorptionVaries]).toBe(1)
  })
})

test('facets keep the shape that they were cut for, the index is the material’s', () => {
  const rings = (lens: FresnelLens) => sceneOf(lampOf(lens)).rings
  const inPolycarbonate: FresnelLens = { ...FRESNEL, material: 'polycarbonate', cutFor: 'pmma' }
  expect(rings(inPolycarbonate)).toEqual(rings(FRESNEL))
  expect(rings({ ...FRESNEL, material: 'polycarbonate' })).not.toEqual(rings(FRESNEL))
  expect(sceneOf(lampOf(inPolycarbonate)).lensIndex).toEqual(
    sceneOf(lampOf({ ...FRESNEL, material: 'polycarbonate' })).lensIndex,
  )
  expect(rings({ ...FRESNEL, material: 'polycarbonate', ownMaterial: COPY, cutFor: 'own' })).toEqual(rings(FRESNEL))
})

describe('absorption over the wavelength: what passes a flat sheet along the axis is exp(−a(λ) t)', () => {
  // 0.02 per mm at 450 nm, 0.1 at 550 nm: straight between.
  const rows = [
    { wavelengthNm: 450, perMm: 0.02 },
    { wavelengthNm: 550, perMm: 0.1 },
  ]
  const sheet: SolidLens = {
    ...{ kind: 'solid', zMm: 20, diameterMm: 40, radiusMm: 10_000, conic: 0, thicknessMm: 8, curved: 'target' },
    ...{ material: 'own', ownMaterial: { ...COPY, absorption: { by: 'table', rows } } },
  }
  // Without a difference of index nothing is reflected.
  const edit = (scene: Scene) => void scene.lensIndex.fill(1)
  test.each([
    [430, 0.02],
    [500, 0.06],
    [512.5, 0.07],
    [537.3, 0.08984],
    [700, 0.1],
  ])('%f nm: %f per mm', (wavelengthNm, perMm) => {
    const lamp = oneEmitter({ spectrum: { kind: 'mono', wavelengthNm }, profile: atAngle(0.02), lens: sheet })
    const exits = exitsOf(traceHere(lamp, { rays: 256, edit }))
    expect(exits.length).toBeGreaterThan(200)
    for (const { weight } of exits)
      expectWithin(weight, Math.exp(-8 * perMm), { abs: 1e-6, because: 'single precision, and paths of 8 mm to 1e-7' })
  })
})

const OTHERS: Record<string, () => Lamp> = {
  // Collimators and grooves without rounded tips: the straight way is WebAssembly’s own.
  'random lamp 57': () => otherMaterial(randomLamp(57), 57),
  'searchlight of PVC': () => ({ ...gannetHead(), lens: { ...(gannetHead().lens as FresnelLens), material: 'pvc' } }),
}

test.each(Object.entries(OTHERS))('%s: WebAssembly has the reference’s bits, and absorption varies', (_, make) => {
  const lamp = make()
  const scene = sceneOf(lamp)
  expect(scene.params[P.lensAbsorptionVaries]).toBe(1)
  const shape = chooseShape(scene, lamp)
  const { size, windowLm } = tallyLayout(shape)
  const run = (make: typeof makeKernel) => {
    const sums = new Float64Array(windowLm)
    const maps = new Float32Array(size - windowLm)
    const exits = make(scene, shape, { seed: 3, plainRandom: false, exitsBelow: 40_000 }).traceSplit(
      2,
      0,
      2000,
      sums,
      maps,
    )
    return { sums, maps, exits }
  }
  const [a, b] = [run(makeKernel), run(fastKernel)]
  for (const key of ['sums', 'maps', 'exits'] as const) expect(sameBits(a[key], b[key]), key).toBe(true)
})
