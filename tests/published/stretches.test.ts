// Tunnels of several stretches and rectangular ones against closed forms: view factors of discs and rectangles, products of plane mirrors.
// J. R. Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-41 (coaxial discs) and C-11 (equal rectangles directly opposed);
// formulas from memory.
import { describe, expect, test } from 'vitest'
import type { Joint, Lamp, Tunnel } from '../../src/lamp/schema.ts'
import { PART_FACE, PART_LENS_GAP, stepPart, wallPart } from '../../src/run/parts.ts'
import { expectValid } from '../../src/run/validate.ts'
import { partShare } from '../kit/assembled.ts'
import { expectWithin } from '../kit/expect.ts'
import {
  atAngle,
  deliveredShare,
  endShare,
  exitsOf,
  type OneEmitter,
  oneEmitter,
  traceHere,
  tube,
} from '../kit/traceHere.ts'

/** C-41: from a disc of radius r1 to one of r2 at distance h. */
function discs(r1: number, r2: number, h: number): number {
  const x = 1 + (1 + (r2 / h) ** 2) / (r1 / h) ** 2
  return (x - Math.sqrt(x * x - 4 * (r2 / r1) ** 2)) / 2
}

/** C-11: from a rectangle a × b to an equal one at distance c. */
function rectangles(a: number, b: number, c: number): number {
  const [x, y] = [a / c, b / c]
  const [x1, y1] = [Math.sqrt(1 + x * x), Math.sqrt(1 + y * y)]
  const sum =
    0.5 * Math.log((x1 * x1 * y1 * y1) / (1 + x * x + y * y)) +
    x * y1 * Math.atan(x / y1) +
    y * x1 * Math.atan(y / x1) -
    x * Math.atan(x) -
    y * Math.atan(y)
  return (2 * sum) / (Math.PI * x * y)
}

const traced = (over: OneEmitter, tunnel: Tunnel, rays = 1 << 15) => {
  const lamp: Lamp = oneEmitter({ tunnel, ...over })
  const run = traceHere(lamp, { rays })
  expectValid(run)
  return run
}
const joint = (zMm: number, belowMm: number, aboveMm: number, over: Partial<Joint> = {}): Joint => ({
  zMm,
  belowMm,
  aboveMm,
  reflectance: 0,
  specularShare: 1,
  scatterDeg: 0,
  ...over,
})

test('a black tube that narrows from radius 30 to 10: walls, step and outlet each take what the source sees of them', () => {
  const run = traced(
    { source: { shape: 'disc', diameterMm: 20 } },
    { ...tube(30, 60), outMm: 20, joints: [joint(30, 60, 20)] },
    1 << 14,
  )
  // Two discs of radius 10 see each other through the step's hole of radius 10 wholly: it holds all lines between them.
  for (const [part, factor] of [
    [wallPart(0), 1 - discs(10, 30, 30)],
    [stepPart(0), discs(10, 30, 30) - discs(10, 10, 30)],
    [wallPart(1), discs(10, 10, 30) - discs(10, 10, 60)],
  ] as const) {
    const share = partShare(run, part)
    expectWithin(share.value, factor, { sigmas: 3.5, se: share.se })
  }
  const out = deliveredShare(run)
  expectWithin(out.value, discs(10, 10, 60), { sigmas: 3.5, se: out.se })
})

test('a step that faces the target takes light that a mirror in front of it sends back', () => {
  // From 20 wide to 60: of light that an ideal reflector above sends down at random, the step gets its share of the section.
  const lamp: Lamp = {
    ...oneEmitter({
      source: { shape: 'disc', diameterMm: 1 },
      profile: { kind: 'cosine', fwhmDeg: 4 },
      tunnel: { ...tube(10, 60), outMm: 60, joints: [joint(10, 20, 60)] },
    }),
    elements: [
      {
        kind: 'diffuser',
        name: 'Mirror',
        zMm: 60.001,
        diameterMm: 60,
        aperture: 'round',
        spreadDeg: 0,
        transmittance: 0,
        reflectance: 1,
        tiltXDeg: 0,
      },
    ],
  }
  const run = traceHere(lamp, { rays: 1 << 14 })
  expectValid(run)
  // Straight down again: through the hole of radius 10 from a source of 4°, but for what has spread past it over 110 mm.
  const step = partShare(run, stepPart(0))
  const face = partShare(run, PART_FACE)
  const gap = partShare(run, PART_LENS_GAP)
  const wall = partShare(run, wallPart(0))
  expectWithin(step.value + face.value + gap.value + wall.value, 1, { abs: 1e-9, because: 'all of it comes down' })
  // I ∝ cosᵐ: beyond θ there is cosᵐ⁺¹θ of it; the step begins where tanθ is 10 in 110.
  const m = Math.log(0.5) / Math.log(Math.cos((2 * Math.PI) / 180))
  const beyond = Math.cos(Math.atan(10 / 110)) ** (m + 1)
  expectWithin(step.value, beyond, { abs: 3.5 * step.se + 0.004, because: 'a source of 1 mm' })
})

describe('black rectangular tubes deliver the view factor of their ends, C-11', () => {
  test.each([
    [20, 20, 20, 0.19982],
    [40, 10, 20, Number.NaN],
    [10, 60, 30, Number.NaN],
  ])('%i × %i, %i long', (a, b, c, known) => {
    const run = traced(
      { source: { shape: 'rectangle', widthMm: a, heightMm: b } },
      { ...tube(a / 2, c), sides: 4, inHeightMm: b, outHeightMm: b },
      1 << 14,
    )
    const factor = rectangles(a, b, c)
    // A cube's opposite faces: 0.1998 (any table).
    if (known > 0) expectWithin(factor, known, { rel: 1e-3, because: 'four digits' })
    const out = deliveredShare(run)
    expectWithin(out.value, factor, { sigmas: 3.5, se: out.se })
  })
})

test('a rectangular duct of mirrors: the product of its plane mirrors, averaged over the azimuth', () => {
  const [w, h, long, deg, rho] = [30, 12, 60, 50, 0.85]
  const run = traced(
    { source: { shape: 'disc', diameterMm: 0.001 }, profile: atAngle(deg) },
    { ...tube(w / 2, long, { reflectance: rho }), sides: 4, inHeightMm: h, outHeightMm: h },
    1 << 14,
  )
  // From the middle a mirror of each pair is met once a width of the way sideways, the first after half of one.
  const side = long * Math.tan((deg * Math.PI) / 180)
  const meetings = (way: number, width: number) => Math.floor((Math.abs(way) + width / 2) / width)
  let sum = 0
  const steps = 20_000
  for (let i = 0; i < steps; i++) {
    const phi = (2 * Math.PI * (i + 0.5)) / steps
    sum += rho ** (meetings(side * Math.cos(phi), w) + meetings(side * Math.sin(phi), h))
  }
  const out = deliveredShare(run)
  expectWithin(out.value, sum / steps, { abs: 3.5 * out.se + 2e-4, because: 'the quadrature, and 0.01° of the source' })
})

test('flats that lean in one direction alone turn light by twice their slope there, and keep its direction along them', () => {
  // From the middle at 30° a flat at ± 10 that leans by γ, tanγ = ¼, is met once or not at all.
  const run = traced(
    { source: { shape: 'disc', diameterMm: 0.001 }, profile: atAngle(30) },
    { ...tube(10, 40, { reflectance: 1 }), outMm: 40, sides: 4, inHeightMm: 2000, outHeightMm: 2000 },
    1 << 10,
  )
  const gamma = Math.atan(0.25)
  let met = 0
  for (const { dx, dy, dz } of exitsOf(run)) {
    const off = { abs: 3e-4, because: '0.01° of the source' }
    if (Math.abs(dz - Math.cos(Math.PI / 6)) < 3e-4) continue
    met++
    const before = Math.sqrt(0.25 - dy * dy)
    const into = before * Math.cos(gamma) - Math.cos(Math.PI / 6) * Math.sin(gamma)
    expectWithin(dz, Math.cos(Math.PI / 6) + 2 * into * Math.sin(gamma), off)
    expectWithin(Math.abs(dx), Math.abs(before - 2 * into * Math.cos(gamma)), off)
  }
  expect(met).toBeGreaterThan(200)
})

test('a mirrored step sends light along the axis straight back, a matt one a Lambertian share to each wall', () => {
  const source: OneEmitter = {
    source: { shape: 'disc', diameterMm: 40 },
    profile: { kind: 'table', thetaDeg: [0, 0.001], intensity: [1, 1] },
  }
  const narrows = (over: Partial<Tunnel>) => ({ ...tube(20, 60, over), outMm: 20, joints: [joint(30, 40, 20)] })
  const mirror = traced(source, narrows({ reflectance: 1 }), 1 << 11)
  // The hole is a quarter of the disc.
  expectWithin(partShare(mirror, PART_FACE).value, 0.75, { abs: 0.005, because: 'an even sequence of points' })
  expectWithin(deliveredShare(mirror).value, 0.25, { abs: 0.005, because: 'an even sequence of points' })
  const matt = traced(source, narrows({ reflectance: 0.5, specularShare: 0 }), 1 << 13)
  // First meeting: half of 0.75 stays in the step. What the annulus sees of the face's disc, by reciprocity of C-41:
  // A₃ F₃₁ = A₁ (F(20→20) − F(20→10)); a black face, and walls whose light may come again, so at least that.
  const seen = ((discs(20, 20, 30) - discs(20, 10, 30)) * 400) / 300
  const face = partShare(matt, PART_FACE)
  expect(face.value).toBeGreaterThan(0.375 * seen - 4 * face.se)
  expect(partShare(matt, stepPart(0)).value).toBeGreaterThan(0.37)
  expect(partShare(matt, wallPart(0)).value).toBeGreaterThan(0.375 * (1 - seen) * 0.5 - 0.01)
})

test('reflectance over the wavelength: the table’s value at the light’s', () => {
  const table = [500, 600].map((nm, i) => ({ nm, reflectance: 0.4 + 0.4 * i }))
  const run = traced(
    {
      source: { shape: 'disc', diameterMm: 0.001 },
      profile: atAngle(45),
      spectrum: { kind: 'mono', wavelengthNm: 555 },
    },
    { ...tube(10, 18, { reflectance: 0.1 }), reflectanceByNm: table },
    1 << 10,
  )
  // One meeting, at z = 10.
  const wall = endShare(run, 'wall')
  expectWithin(1 - wall.value, 0.62, { rel: 1e-6, because: 'single precision' })
})
