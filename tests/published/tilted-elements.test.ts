// Tilted, moved and paired elements against geometrical optics (textbook: M. Born, E. Wolf, Principles of Optics, 4.4; from memory).
import { describe, expect, test } from 'vitest'
import type { Element, Lamp, Lens } from '../../src/lamp/schema.ts'
import { lensIndex } from '../../src/library/lensMaterial.ts'
import { expectValid } from '../../src/run/validate.ts'
import { compileSun } from '../../src/scene/compile.ts'
import { expectWithin } from '../kit/expect.ts'
import {
  type Exit,
  endShare,
  exitsOf,
  GREEN,
  type OneEmitter,
  oneEmitter,
  sceneOf,
  traceHere,
} from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const STRAIGHT: OneEmitter['profile'] = { kind: 'table', thetaDeg: [0, 0.0005], intensity: [1, 1] }

const lampOf = (
  over: OneEmitter,
  elements: Element[],
  at: { xMm: number; yMm: number } = { xMm: 0, yMm: 0 },
): Lamp => ({
  ...oneEmitter({ source: { shape: 'disc', diameterMm: 0.001 }, spectrum: GREEN, sites: [at], ...over }),
  elements,
})
const traced = (lamp: Lamp, rays = 1 << 9): Exit[] => {
  const run = traceHere(lamp, { rays })
  expectValid(run)
  return exitsOf(run)
}
const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!
const ideal = (zMm: number, focalMm: number, over: Partial<Extract<Element, { kind: 'ideal' }>> = {}): Element => ({
  kind: 'ideal',
  name: `Lens at ${zMm}`,
  zMm,
  focalMm,
  diameterMm: 100,
  ...over,
})
const cover = (over: Partial<Extract<Element, { kind: 'cover' }>> = {}): Element => ({
  kind: 'cover',
  name: 'Cover',
  zMm: 50,
  diameterMm: 60,
  aperture: 'round',
  thicknessMm: 8,
  material: 'pmma',
  ...over,
})

describe('a plane parallel plate moves a beam aside by t sinθ (1 − cosθ/(n cosθ′))', () => {
  const n = lensIndex({ material: 'pmma' }, 555)
  test.each([10, 30, 55])('tilted by %i°', (deg) => {
    const sin = Math.sin(deg * RAD)
    const moved = 8 * sin * (1 - Math.cos(deg * RAD) / Math.sqrt(n * n - sin * sin))
    const along = { rel: 2e-4, because: 'a source of 1 µm, and exits in single precision' }
    // Tilted about x its normal leans to −y; about y to +x: so does the beam. The median is light that was reflected nowhere.
    const aboutX = traced(lampOf({ profile: STRAIGHT }, [cover({ tiltXDeg: deg })]))
    expectWithin(median(aboutX.map(({ y, z, dy, dz }) => y - ((z - 100) * dy) / dz)), -moved, along)
    const aboutY = traced(lampOf({ profile: STRAIGHT }, [cover({ tiltYDeg: deg })]))
    expectWithin(median(aboutY.map(({ x, z, dx, dz }) => x - ((z - 100) * dx) / dz)), moved, along)
  })
})

test('a plate of index n passes 2n/(n² + 1) at normal incidence, all reflections between its two surfaces counted', () => {
  // (1 − R)²/(1 − R²) with R = ((n − 1)/(n + 1))²; the clearest of the materials absorbs under 1e-4 in a tenth of a millimetre.
  const lamp = lampOf({ profile: STRAIGHT }, [cover({ thicknessMm: 0.1, surfaceReflectance: 0.3 })])
  const run = traceHere(lamp, { rays: 1 << 12 })
  const coated = endShare(run, 'delivered')
  expectWithin(coated.value, 0.7 / 1.3, { sigmas: 4, se: coated.se + 1e-5 })
  const plain = endShare(
    traceHere(lampOf({ profile: STRAIGHT }, [cover({ thicknessMm: 0.1 })]), { rays: 1 << 12 }),
    'delivered',
  )
  const n = lensIndex({ material: 'pmma' }, 555)
  expectWithin(plain.value, (2 * n) / (n * n + 1), { sigmas: 4, se: plain.se + 1e-4 })
})

test('a pile of m plates passes (1 − R)/(1 + (2m − 1) R): all goings to and fro between them counted', () => {
  // G. G. Stokes, Proc. R. Soc. 11 (1862) 545 (from memory); R of a surface, no absorption.
  const pile = [30, 50, 70].map((zMm) => cover({ zMm, name: `At ${zMm}`, thicknessMm: 0.1, surfaceReflectance: 0.3 }))
  const run = traceHere(lampOf({ profile: STRAIGHT }, pile), { rays: 1 << 12 })
  expectValid(run)
  const share = endShare(run, 'delivered')
  expectWithin(share.value, 0.7 / (1 + 5 * 0.3), { sigmas: 4, se: share.se })
})

test('a diffuser of so wide a spread that many draws point back still passes what it passes', () => {
  const wide: Element = {
    kind: 'diffuser',
    name: 'Wide',
    zMm: 20,
    diameterMm: 500,
    aperture: 'round',
    spreadDeg: 45,
    transmittance: 0.6,
    reflectance: 0,
  }
  const run = traceHere(lampOf({ profile: { kind: 'cosine', fwhmDeg: 120 } }, [wide]), { rays: 1 << 11 })
  expectValid(run)
  const missed = endShare(run, 'outsideLens').value
  const passed = endShare(run, 'delivered')
  expectWithin(passed.value, 0.6 * (1 - missed), { sigmas: 4, se: passed.se })
  expect(exitsOf(run).every(({ dz }) => dz > 0)).toBe(true)
})

describe('a lens moved aside by h deviates the axis by h/f', () => {
  const beam = { profile: STRAIGHT }
  test.each([
    ['decentred', { decentreXMm: 6, decentreYMm: -9 }],
    ['with its own centre there', { centreXMm: 6, centreYMm: -9 }],
    ['both, half and half', { decentreXMm: 3, decentreYMm: -4.5, centreXMm: 3, centreYMm: -4.5 }],
    ['turned by a quarter, its centre turned back', { turnDeg: 90, centreXMm: -9, centreYMm: -6 }],
  ])('%s', (_, over) => {
    for (const { dx, dy, dz } of traced(lampOf(beam, [ideal(50, 150, over)]), 64)) {
      const off = { abs: 2e-5, because: 'the beam’s own width' }
      expectWithin(dx / dz, 6 / 150, off)
      expectWithin(dy / dz, -9 / 150, off)
    }
  })
})

test.each([
  [100, 150, 30],
  [80, 80, 60],
])('two thin lenses, 1/f = 1/f₁ + 1/f₂ − d/(f₁ f₂): %i, %i, %i apart', (f1, f2, d) => {
  const power = 1 / f1 + 1 / f2 - d / (f1 * f2)
  const lamp = lampOf({ profile: STRAIGHT, source: { shape: 'disc', diameterMm: 20 } }, [
    ideal(50, f1),
    ideal(50 + d, f2),
  ])
  let most = 0
  for (const { x, dx, dz } of traced(lamp, 256)) {
    // Height at the first lens, from that at the second: x₁ = x₂/(1 − d/f₁).
    const first = x / (1 - d / f1)
    most = Math.max(most, Math.abs(first))
    expectWithin(dx / dz, -first * power, { abs: 6e-5, because: 'the beam’s own width' })
  }
  expect(most).toBeGreaterThan(8)
})

test('a piece cut from beside the axis of a Fresnel lens sends light from its focus out along the axis', () => {
  const piece: Lens = {
    kind: 'fresnel',
    zMm: 200,
    focalMm: 200,
    diameterMm: 60,
    aperture: 'rectangle',
    heightMm: 40,
    centreXMm: -70,
    centreYMm: 20,
    decentreXMm: 30,
    decentreYMm: 10,
    thicknessMm: 2,
    pitchMm: 0.5,
    grooves: 'target',
    draftDeg: 3,
    tipShare: 0,
    material: 'pmma',
    designNm: 555,
  }
  // The optical axis goes through (30 − 70, 10 + 20): there the source stands.
  const exits = traced(
    lampOf({ lens: piece, profile: { kind: 'cosine', fwhmDeg: 90 } }, [], { xMm: -40, yMm: 30 }),
    1 << 14,
  )
  const straight = exits.filter(({ dz }) => dz > Math.cos(0.2 * RAD))
  expect(exits.length).toBeGreaterThan(150)
  // A few per cent meet a riser; the rest is off by half a groove at most, 0.25 mm in 200.
  expect(straight.length / exits.length).toBeGreaterThan(0.85)
  expect(exits.every(({ x, y }) => Math.abs(x - 30) < 31 && Math.abs(y - 10) < 21)).toBe(true)
})

test('two Fresnel sheets groove to groove image the focus of one upon the other’s: 1/f₂ of slope a millimetre', () => {
  const sheet = (zMm: number, grooves: 'target' | 'source'): Element => ({
    kind: 'fresnel',
    name: grooves,
    zMm,
    focalMm: 300,
    diameterMm: 60,
    aperture: 'round',
    thicknessMm: 2,
    pitchMm: 0.3,
    grooves,
    draftDeg: 2,
    tipShare: 0,
    material: 'pmma',
    designNm: 555,
  })
  const exits = traced(
    lampOf({ profile: { kind: 'table', thetaDeg: [0, 4], intensity: [1, 1] } }, [
      sheet(300, 'target'),
      sheet(310, 'source'),
    ]),
    1 << 12,
  )
  const slopes = exits.flatMap(({ x, y, dx, dy, dz }) => {
    const r = Math.hypot(x, y)
    return r > 10 ? [(x * dx + y * dy) / (r * dz) / r] : []
  })
  expect(slopes.length).toBeGreaterThan(500)
  expectWithin(median(slopes), -1 / 300, { rel: 0.02, because: 'cut for light from the other side: a per cent at f/5' })
})

test('variances of two Gaussian diffusers add', () => {
  const film = (zMm: number, spreadDeg: number): Element => ({
    kind: 'diffuser',
    name: `Film at ${zMm}`,
    zMm,
    diameterMm: 100,
    aperture: 'square',
    spreadDeg,
    transmittance: 0.8,
    reflectance: 0,
  })
  const exits = traced(lampOf({ profile: STRAIGHT }, [film(20, 1), film(30, 2)]), 1 << 12)
  // Slopes of σ so small that their products are nothing; a variance of N values has the error σ² √(2/N).
  const both = (1 * RAD) ** 2 + (2 * RAD) ** 2
  for (const axis of ['dx', 'dy'] as const) {
    const variance = exits.reduce((sum, e) => sum + (e[axis] / e.dz) ** 2, 0) / exits.length
    expectWithin(variance, both, { sigmas: 4, se: both * Math.sqrt(2 / exits.length) })
  }
  expectWithin(exits[0]!.weight, 0.64, { rel: 1e-6, because: 'the two transmittances' })
})

describe('the sun on a tilted cover', () => {
  const lamp = lampOf({}, [cover({ aperture: 'rectangle', heightMm: 30, tiltXDeg: 20, decentreXMm: 5 })])
  const scene = sceneOf(lamp)
  test('brings irradiance × area × cosine to its normal', () => {
    // The normal leans to −y: a sun at azimuth −90°, tilt 20° stands square to it; from behind it brings nothing.
    const watts = (tilt: number, azimuth: number) => compileSun(scene, lamp, tilt, azimuth).emittedW
    const close = { rel: 1e-6, because: 'single precision' }
    expectWithin(watts(20, -90), 1000 * 0.06 * 0.03, close)
    expectWithin(watts(0, 0), 1.8 * Math.cos(20 * RAD), close)
    expectWithin(watts(40, 90), 1.8 * Math.cos(60 * RAD), close)
    expect(watts(80, 90)).toBe(0)
  })
  test('lights the rectangle’s shadow on the face', () => {
    const run = traceHere(
      { ...lamp, face: { ...lamp.face, sizeMm: 400, reflectance: 0 } },
      { rays: 1 << 13, sunTiltDeg: 0 },
    )
    expectValid(run)
    const face = endShare(run, 'face')
    expect(face.value).toBeGreaterThan(0.8)
    const { face: map } = run.shape
    const at = (i: number) => (2 * map.halfMm * (i + 0.5)) / map.n - map.halfMm
    const total = run.tallies[0]!
    const faceAt = total.length - map.n * map.n
    for (let i = 0; i < map.n * map.n; i++) {
      if (total[faceAt + i]! === 0) continue
      const [x, y] = [at(i % map.n), at(Math.floor(i / map.n))]
      expect(Math.abs(x - 5)).toBeLessThan(30 + 6)
      expect(Math.abs(y)).toBeLessThan(15 * Math.cos(20 * RAD) + 8)
    }
  })
})
