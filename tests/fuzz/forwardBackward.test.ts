// Light goes both ways alike: whatever the lamp, its intensity traced from the emitters and traced back from the target agree within four
// standard errors. A pair further apart is a defect of one of the tracers.
import { describe, expect, test } from 'vitest'
import { TRUSTED } from '../../src/engine/backward/estimate.ts'
import { backwardUnsupported } from '../../src/engine/backward/sources.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { mean } from '../../src/num/stats.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { broadLamp, forwardBackward } from '../kit/forwardBackward.ts'
import { otherMaterial, randomLamp } from '../kit/randomLamp.ts'
import { oneEmitter, sceneOf, tube } from '../kit/traceHere.ts'

const APART = 4
/** Half degrees: out to 5°, 20° and 50°. */
const EDGES = [0, 10, 40, 100]
/** In the usual suite so many times fewer, and all lamps together must agree as well (the last test). */
const FEWER = amount(2, 1)
const RAYS = { forward: 40_000, backward: 14_000 }
const met = new Set<string>()
/** In standard errors, signed. */
const apart: number[] = []

function agree(lamp: Lamp, seed: number, rays = RAYS): void {
  if (backwardUnsupported(sceneOf(lamp)).length > 0) return
  const each = { forward: rays.forward / FEWER, backward: rays.backward / FEWER }
  for (const band of forwardBackward(lamp, EDGES, each, seed)) {
    if (band.backward.effective < TRUSTED || !(band.forward.value > 0)) continue
    expect(
      Math.abs(band.apart),
      `${band.fromRad} to ${band.toRad} rad: forward ${band.forward.value} ± ${band.forward.se}, backward ${band.backward.value} ± ${band.backward.se}`,
    ).toBeLessThan(APART)
    apart.push(band.apart)
    const { tunnel, lens } = lamp
    met.add(lamp.opticTypes[0]!.kind)
    met.add(
      lens
        ? `${lens.kind} ${lens.kind === 'fresnel' ? lens.grooves : lens.kind === 'solid' ? lens.curved : ''}`
        : 'no lens',
    )
    met.add(lens?.kind === 'fresnel' ? lens.aperture : 'round')
    if (lens?.kind === 'fresnel' && lens.tipShare > 0) met.add(`tips ${lens.grooves}`)
    met.add(tunnel ? `${tunnel.sides > 0 ? 'polygon' : 'round'} scatter ${tunnel.scatterDeg}` : 'no tunnel')
    met.add(`profile ${lamp.emitterTypes[0]!.profile.kind}`)
  }
}

describe('one broad emitter, every kind of lamp', () => {
  test.each(seeds(amount(30, 200)))('seed %i', (seed) => agree(broadLamp(seed), seed))
})

describe('lamps as they come', () => {
  // Of these the emitters are small: only some lamps send a ray from the target back to them often enough.
  test.each([3, 14, 18, 38, 43, 56])('seed %i', (seed) => agree(randomLamp(seed), seed))
})

describe('lenses of another material: absorption over the wavelength, facets cut for another index', () => {
  test.each([5, 12, 22, 23])('seed %i', (seed) => agree(otherMaterial(broadLamp(seed), seed), seed))
})

describe('light that grazes a scattering wall many times', () => {
  // Where forward and backward choose directions with unequal chances: a redrawn slope near the wall.
  test.each([
    [0, 1, 4],
    [0, 0.8, 8],
    [6, 1, 2],
    [4, 0.5, 5],
  ])('%i sides, specular share %f, scatter %f°', (sides, specularShare, scatterDeg) => {
    const wall = { reflectance: 0.97, specularShare, scatterDeg, sides }
    const source = { shape: 'disc' as const, diameterMm: 60 }
    // Nothing shines along the axis: what is seen there was scattered into it.
    const profile = { kind: 'table' as const, thetaDeg: [0, 6, 9, 25], intensity: [0, 0, 1, 0] }
    const lamp = oneEmitter({ source, profile, faceSizeMm: 100, tunnel: tube(20, 200, { ...wall, outMm: 30 }) })
    agree(lamp, 7, { forward: 120_000, backward: 40_000 })
  })
})

test('a white cavity with a small mouth: light meets face and wall many times', () => {
  const wall = { reflectance: 0.9, specularShare: 0.2, scatterDeg: 3 }
  const source = { shape: 'disc' as const, diameterMm: 60 }
  const lamp = oneEmitter({
    source,
    faceReflectance: 0.9,
    faceSizeMm: 100,
    tunnel: tube(50, 60, { ...wall, outMm: 30 }),
  })
  agree(lamp, 8, { forward: 50_000, backward: 25_000 })
})

describe('slanting light at the edge of a lens', () => {
  const source = { shape: 'disc' as const, diameterMm: 140 }
  const at = { zMm: 40, diameterMm: 80, thicknessMm: 6, material: 'pmma' as const }
  const fresnel = { ...at, kind: 'fresnel' as const, focalMm: 120, pitchMm: 5, draftDeg: 3, tipShare: 0, designNm: 555 }
  const solid = { ...at, kind: 'solid' as const, zMm: 50, radiusMm: 70, conic: 0, thicknessMm: 15 }
  test.each([
    { ...fresnel, grooves: 'target' as const, aperture: 'round' as const },
    { ...fresnel, grooves: 'target' as const, aperture: 'square' as const },
    { ...fresnel, grooves: 'source' as const, aperture: 'round' as const },
    { ...fresnel, grooves: 'source' as const, aperture: 'square' as const, pitchMm: 7 },
    // A flat rest beyond the last whole ring; rounded tips; a lens that is nothing else.
    { ...fresnel, grooves: 'target' as const, aperture: 'round' as const, pitchMm: 7, tipShare: 0.3 },
    { ...fresnel, grooves: 'source' as const, aperture: 'round' as const, pitchMm: 7 },
    { ...fresnel, grooves: 'source' as const, aperture: 'round' as const, pitchMm: 7, tipShare: 0.3 },
    { ...fresnel, grooves: 'target' as const, aperture: 'square' as const, tipShare: 0.3 },
    { ...fresnel, grooves: 'target' as const, aperture: 'round' as const, pitchMm: 7, tipShare: 1 },
    { ...fresnel, grooves: 'source' as const, aperture: 'square' as const, tipShare: 1 },
    { ...solid, curved: 'target' as const },
    { ...solid, curved: 'source' as const },
  ])('%o', (lens) => {
    agree(oneEmitter({ source, faceSizeMm: 400, lens }), 9, { forward: 120_000, backward: 40_000 })
  })
})

test('enough was compared, of every kind', () => {
  expect(apart.length).toBeGreaterThan(80)
  for (const what of ['bare', 'collimator', 'reflector', 'no lens', 'ideal ', 'solid target', 'solid source'])
    expect([...met]).toContain(what)
  for (const what of [
    'fresnel target',
    'fresnel source',
    'square',
    'no tunnel',
    'polygon scatter 4',
    'round scatter 4',
    'tips target',
    'tips source',
  ])
    expect([...met]).toContain(what)
  for (const kind of ['cosine', 'gaussian', 'table', 'map']) expect([...met]).toContain(`profile ${kind}`)
})

test('all together: no end is brighter, nor the differences larger than their errors', () => {
  const n = apart.length
  // Each error comes from sixteen batches: Student's t of 15 to 30 degrees of freedom, of variance ν/(ν − 2) at most 15/13.
  const variance = 15 / 13
  expectWithin(mean(apart), 0, { sigmas: 4, se: Math.sqrt(variance / n) })
  const square = apart.reduce((sum, a) => sum + a * a, 0) / n
  // The squares scatter by √(2 + 6/(ν − 4)) of their mean (kurtosis of t).
  expect(square).toBeLessThan(variance * (1 + 4 * Math.sqrt((2 + 6 / 11) / n)))
})
