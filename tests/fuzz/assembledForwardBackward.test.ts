// Assembled lamps give the same light traced from the emitters and traced back from the target, within four standard errors: in bands about the
// axis, towards one direction beside it, and at a place before the lamp. A pair further apart is a defect of one of the tracers.
import { describe, expect, test } from 'vitest'
import type { Aim } from '../../src/engine/backward/aim.ts'
import { backwardEstimate, TRUSTED } from '../../src/engine/backward/estimate.ts'
import { backwardUnsupported } from '../../src/engine/backward/sources.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { foremostZMm } from '../../src/lamp/body.ts'
import type { Element, Lamp } from '../../src/lamp/schema.ts'
import { mean } from '../../src/num/stats.ts'
import { amount } from '../kit/amount.ts'
import { assembledLamp, type Part } from '../kit/assembledLamp.ts'
import { expectWithin } from '../kit/expect.ts'
import { dice } from '../kit/randomLamp.ts'
import { type Exit, exitShare, oneEmitter, sceneOf, traceScene, tube } from '../kit/traceHere.ts'

const APART = 4
const RAD = Math.PI / 180
const RAYS = amount({ forward: 12_000, backward: 5000 }, { forward: 100_000, backward: 40_000 })
/** In standard errors, signed. */
const apart: number[] = []
const met = new Map<string, number>()
const note = (what: string) => met.set(what, (met.get(what) ?? 0) + 1)

const band = (fromDeg: number, toDeg: number): Aim => ({ kind: 'band', fromRad: fromDeg * RAD, toRad: toDeg * RAD })

/** Bands about the axis, a cone beside it and a place before the lamp. */
function usualAims(lamp: Lamp, seed: number): Aim[] {
  const d = dice(seed + 70_000)
  const beside = { thetaRad: d.between(0.1, 0.4), phiRad: d.between(0, 6.28), halfRad: 0.1 }
  const zMm = Math.max(foremostZMm(lamp) ?? 0, lamp.tunnel?.zOutMm ?? 0) + 60
  const place = { xMm: d.between(-50, 50), yMm: d.between(-50, 50), zMm, discMm: 50 }
  return [band(0, 10), band(10, 30), band(30, 60), { kind: 'cone', ...beside }, { kind: 'disc', ...place }]
}

function agree(lamp: Lamp, seed: number, rays = RAYS, aims = usualAims(lamp, seed)): void {
  const scene = sceneOf(lamp)
  expect(backwardUnsupported(scene)).toEqual([])
  const run = traceScene(scene, chooseShape(scene, lamp), { rays: rays.forward, seed })
  for (const aim of aims) {
    const backward = backwardEstimate(scene, aim, { seed: seed + 1000, rays: rays.backward })
    const share = exitShare(run, (exit) => isIn(aim, exit))
    const scale = scene.emittedW / extentOf(aim)
    const forward = { value: share.value * scale, se: share.se * scale }
    if (backward.effective < TRUSTED || !(forward.value > 0)) continue
    const { value, se } = backward.watts
    const sigmas = (value - forward.value) / Math.hypot(forward.se, se)
    const numbers = `forward ${forward.value} ± ${forward.se}, backward ${value} ± ${se}`
    expect(Math.abs(sigmas), `${JSON.stringify(aim)}: ${numbers}`).toBeLessThan(APART)
    apart.push(sigmas)
  }
  noteParts(lamp)
}

function isIn(aim: Aim, { x, y, z, dx, dy, dz }: Exit): boolean {
  if (aim.kind === 'band') return dz <= Math.cos(aim.fromRad) && dz > Math.cos(aim.toRad)
  if (aim.kind === 'disc') {
    const s = (aim.zMm - z) / dz
    return s > 0 && Math.hypot(x + s * dx - aim.xMm, y + s * dy - aim.yMm) < aim.discMm / 2
  }
  const phiRad = aim.kind === 'cone' ? aim.phiRad : 0
  const across = Math.sin(aim.thetaRad) * (dx * Math.cos(phiRad) + dy * Math.sin(phiRad))
  return across + Math.cos(aim.thetaRad) * dz > Math.cos(aim.halfRad)
}

/** sr, or m². */
function extentOf(aim: Aim): number {
  if (aim.kind === 'band') return 2 * Math.PI * (Math.cos(aim.fromRad) - Math.cos(aim.toRad))
  return aim.kind === 'disc' ? Math.PI * (aim.discMm / 2000) ** 2 : 2 * Math.PI * (1 - Math.cos(aim.halfRad))
}

function noteParts({ tunnel, elements = [] }: Lamp): void {
  for (const element of elements) noteElement(element)
  if (!tunnel) {
    note('no tunnel')
    return
  }
  note(tunnel.inHeightMm === undefined ? (tunnel.sides > 0 ? 'polygon' : 'round') : 'rectangle')
  const joints = tunnel.joints ?? []
  for (const of of [tunnel, ...joints]) {
    if (of.reflectanceByNm) note('reflectance over the wavelength')
    if (of.scatterDeg > 0 && of.specularShare > 0) note('scattering wall')
  }
  if (joints.some((j) => j.aboveMm > j.belowMm)) note('step outwards')
  if (joints.some((j) => j.aboveMm < j.belowMm)) note('step inwards')
}

function noteElement(element: Element): void {
  const side = 'grooves' in element ? element.grooves : 'curved' in element ? element.curved : ''
  note(`${element.kind} ${side}`.trim())
  note(element.aperture ?? 'round')
  if ((element.tiltXDeg ?? 0) !== 0 || (element.tiltYDeg ?? 0) !== 0) note(`tilted ${element.kind}`)
  if ('centreXMm' in element && element.centreXMm !== 0) note(`${element.kind} beside its axis`)
  if (element.kind === 'cover') note(element.surfaceReflectance === undefined ? 'plain cover' : 'coated cover')
  if (element.kind === 'diffuser') note(element.reflectance > 0 ? 'reflecting film' : 'film')
}

const LAMPS: [number, Part[]][] = [
  [1, []],
  [2, []],
  [2, ['fresnel']],
  [4, ['solid']],
  [5, ['cover', 'fresnel']],
  [6, ['ideal', 'cover']],
  [2, ['diffuser', 'cover']],
  [8, ['solid', 'diffuser']],
  [11, ['ideal', 'fresnel']],
  [10, ['fresnel', 'solid']],
  [9, ['diffuser', 'fresnel']],
  [12, ['fresnel', 'cover', 'solid']],
  [8, ['fresnel']],
  [12, ['cover', 'solid']],
]

describe('random lamps', () => {
  test.each(LAMPS)('seed %i: %j', (seed, parts) => agree(assembledLamp(seed, parts), seed))
})

describe('more of them, of any parts', () => {
  test.each(Array.from({ length: amount(1, 80) }, (_, i) => 100 + i))('seed %i', (seed) =>
    agree(assembledLamp(seed), seed),
  )
})

describe('light by way of a step that scatters', () => {
  // Where forward and backward choose directions with unequal chances. A film throws slanting light back onto the step, which is seen from in
  // front through the film: nothing shines straight to where it is seen.
  const film = {
    name: 'Film',
    kind: 'diffuser' as const,
    aperture: 'round' as const,
    diameterMm: 400,
    zMm: 20,
    spreadDeg: 0,
  }
  const source = { shape: 'disc' as const, diameterMm: 120 }
  const profile = { kind: 'table' as const, thetaDeg: [0, 35, 45, 65, 75], intensity: [0, 0, 1, 0.6, 0] }
  test.each([
    [1, 30],
    [0.8, 25],
  ])('specular share %f, scatter %f°', (specularShare, scatterDeg) => {
    const step = { zMm: 1, belowMm: 140, aboveMm: 360, reflectance: 0.7, specularShare, scatterDeg }
    const wall = { reflectance: 0, specularShare: 1, scatterDeg: 0 }
    const black = { ...tube(70, 19, { ...wall, outMm: 360 }), joints: [step] }
    const lamp = oneEmitter({ source, profile, faceSizeMm: 140, tunnel: black })
    const elements = [{ ...film, transmittance: 0.5, reflectance: 0.5 }]
    const counted = apart.length
    agree({ ...lamp, elements }, 5, { forward: 40_000, backward: 100_000 }, [band(0, 10), band(10, 20)])
    expect(apart.length).toBe(counted + 2)
  })
})

describe('slanting light at the edge of a grooved piece', () => {
  const source = { shape: 'disc' as const, diameterMm: 160 }
  const body = {
    ...{ name: 'Piece', kind: 'fresnel' as const, material: 'pmma' as const, thicknessMm: 6 },
    draftDeg: 3,
    designNm: 555,
  }
  const piece = { ...body, zMm: 50, diameterMm: 70, focalMm: 120, tipShare: 0 }
  test.each<[string, Element]>([
    // All light leaves by the last ring or past its side.
    [
      'one deep ring',
      { ...piece, aperture: 'round', grooves: 'target', pitchMm: 40, centreXMm: 5, zMm: 60, focalMm: 70 },
    ],
    [
      'rounded tips',
      {
        ...piece,
        aperture: 'rectangle',
        heightMm: 40,
        grooves: 'target',
        pitchMm: 9,
        centreXMm: -50,
        tiltYDeg: -25,
        tipShare: 0.4,
      },
    ],
    [
      'rounded tips to the source',
      { ...piece, aperture: 'square', grooves: 'source', pitchMm: 9, centreXMm: -50, tiltYDeg: 20, tipShare: 0.4 },
    ],
  ])('%s', (_, element) => {
    const lamp = { ...oneEmitter({ source, faceSizeMm: 400 }), elements: [element] }
    agree(lamp, 3, { forward: 60_000, backward: 16_000 }, [band(0, 15), band(15, 30), band(30, 50)])
  })
})

test('every new kind of part at least twice', () => {
  for (const what of ['no tunnel', 'round', 'polygon', 'rectangle', 'step outwards', 'step inwards', 'scattering wall'])
    expect(met.get(what), what).toBeGreaterThan(1)
  for (const what of ['ideal', 'solid target', 'solid source', 'fresnel target', 'fresnel source', 'cover', 'diffuser'])
    expect(met.get(what), what).toBeGreaterThan(1)
  for (const kind of ['ideal', 'solid', 'fresnel', 'cover', 'diffuser'])
    expect(met.get(`tilted ${kind}`), kind).toBeGreaterThan(1)
  for (const kind of ['ideal', 'solid', 'fresnel']) expect(met.get(`${kind} beside its axis`), kind).toBeGreaterThan(1)
  for (const what of [
    'reflectance over the wavelength',
    'square',
    'plain cover',
    'coated cover',
    'film',
    'reflecting film',
  ])
    expect(met.get(what), what).toBeGreaterThan(1)
})

test('all together: no end is brighter, nor the differences larger than their errors', () => {
  const n = apart.length
  expect(n).toBeGreaterThan(40)
  // Each error comes from sixteen batches: Student's t of 15 to 30 degrees of freedom, of variance ν/(ν − 2) at most 15/13.
  const variance = 15 / 13
  expectWithin(mean(apart), 0, { sigmas: 4, se: Math.sqrt(variance / n) })
  const square = apart.reduce((sum, a) => sum + a * a, 0) / n
  // The squares scatter by √(2 + 6/(ν − 4)) of their mean (kurtosis of t).
  expect(square).toBeLessThan(variance * (1 + 4 * Math.sqrt((2 + 6 / 11) / n)))
})
