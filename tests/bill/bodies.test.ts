// Volumes, areas and centres by hand.
import { describe, expect, test } from 'vitest'
import { elementBody, finBodies, stepAreaMm2, stretchSheet } from '../../src/bill/bodies.ts'
import { makeSink } from '../../src/heat/sink.ts'
import { stretchesOf } from '../../src/lamp/assembly.ts'
import type { Cover, Face, FresnelLens, SolidLens, Tunnel } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { METALS } from '../../src/library/metals.ts'
import { coolingOf } from '../../src/library/typicalPower.ts'
import { slopeToSource, slopeToTarget } from '../../src/optics/slopes.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { randomPowerLamp } from '../kit/randomPower.ts'

const exact = { rel: 1e-9, because: 'quadrature of a smooth body' } as const
const zero = { abs: 1e-9, because: 'rounding' } as const

const pane: Cover = {
  name: 'Pane',
  kind: 'cover',
  zMm: 100,
  diameterMm: 80,
  aperture: 'round',
  thicknessMm: 4,
  material: 'float',
}
const solid: SolidLens = {
  kind: 'solid',
  zMm: 200,
  diameterMm: 60,
  radiusMm: 50,
  conic: 0,
  thicknessMm: 10,
  curved: 'target',
  material: 'crown',
}
const fresnel: FresnelLens = {
  kind: 'fresnel',
  zMm: 300,
  focalMm: 400,
  diameterMm: 200,
  aperture: 'round',
  thicknessMm: 2,
  pitchMm: 0.5,
  grooves: 'target',
  draftDeg: 0,
  tipShare: 0,
  material: 'pmma',
  designNm: 587.6,
}

describe('panes', () => {
  test('a round one: π r² t, its middle half of its thickness on', () => {
    const { volumeMm3, centreMm } = elementBody(pane)
    expectWithin(volumeMm3, Math.PI * 1600 * 4, exact)
    for (const [k, at] of [0, 0, 102].entries()) expectWithin(centreMm[k]!, at, zero)
  })
  test('a rectangle: w h t; turned by its frame', () => {
    const lying: Cover = { ...pane, aperture: 'rectangle', heightMm: 30, decentreXMm: 5, decentreYMm: -7, tiltXDeg: 60 }
    const { volumeMm3, centreMm } = elementBody(lying)
    expectWithin(volumeMm3, 80 * 30 * 4, exact)
    // 2 mm along the normal, which leans by 60° about x towards −y.
    for (const [k, at] of [5, -7 - 2 * Math.sin(Math.PI / 3), 100 + 1].entries()) expectWithin(centreMm[k]!, at, zero)
  })
})

describe('solid lenses', () => {
  // Plano-convex, R 50, edge radius 30: sag 50 − √(2500 − 900) = 10, so the edge is sharp and the lens is a cap of a sphere:
  // πs²(3R − s)/3 = π·100·140/3; its centre lies 3(2R − s)²/(4(3R − s)) = 3·8100/560 from the sphere's centre, which is 40 below the flat side.
  const volume = (Math.PI * 100 * 140) / 3
  const above = (3 * 8100) / 560 - 40
  test('a cap of a sphere: volume and centre, curved to either side', () => {
    for (const [curved, sign] of [
      ['target', 1],
      ['source', -1],
    ] as const) {
      const { volumeMm3, centreMm } = elementBody({ ...solid, curved })
      expectWithin(volumeMm3, volume, { rel: 1e-6, because: 'a sharp edge' })
      expectWithin(centreMm[2], 200 + sign * above, { abs: 1e-5, because: 'a sharp edge' })
    }
  })
  test('a paraboloid: half of a cylinder, its centre a third of the height up', () => {
    // r²/2R = 900/90 = 10 at the edge.
    const { volumeMm3, centreMm } = elementBody({ ...solid, radiusMm: 45, conic: -1 })
    expectWithin(volumeMm3, (Math.PI * 900 * 10) / 2, exact)
    expectWithin(centreMm[2], 200 + 10 / 3, exact)
  })
  test('the curve past its edge leaves nothing, not a hole', () => {
    const { volumeMm3 } = elementBody({ ...solid, diameterMm: 120 })
    expectWithin(volumeMm3, volume, { rel: 0.02, because: 'the rule meets a kink' })
  })
  test('a piece beside its axis weighs more on the side of the axis', () => {
    const { centreMm } = elementBody({ ...solid, diameterMm: 20, centreXMm: 8 })
    expect(centreMm[0]).toBeGreaterThan(0.01)
    expectWithin(centreMm[1], 0, zero)
  })
})

describe('Fresnel lenses', () => {
  const mean = (depth: (r: number) => number) => {
    let [volume, moment] = [0, 0]
    const n = 20_000
    for (let i = 0; i < n; i++) {
      const r = (100 * (i + 0.5)) / n
      const area = (2 * Math.PI * r * 100) / n
      volume += (area * depth(r)) / 2
      moment += (area * depth(r) ** 2) / 6
    }
    return { volume, moment }
  }
  test('grooves to the target: plate and triangles, by the facets that the tracer cuts', () => {
    const n = 1.49
    const own = { ...fresnel, material: 'own', ownMaterial: ownOf(n) } as const
    const { volume, moment } = mean((r) => 0.5 * Math.tan(slopeToTarget(r, 400, 2, n)))
    const { volumeMm3, centreMm } = elementBody(own)
    const plate = Math.PI * 1e4 * 2
    expectWithin(volumeMm3 - plate, volume, { rel: 0.01, because: 'the plate’s thickness moves a facet by 1 %' })
    const z = (plate * 1 + volume * 2 + moment) / (plate + volume)
    expectWithin(centreMm[2], 300 + z, { abs: 1e-3, because: 'as above' })
  })
  test('grooves to the source hang below the valleys; a draft takes some of their depth', () => {
    const n = 1.49
    const own = { ...fresnel, grooves: 'source', draftDeg: 10, material: 'own', ownMaterial: ownOf(n) } as const
    const tanDraft = Math.tan(Math.PI / 18)
    const { volume, moment } = mean((r) => {
      const tan = Math.tan(slopeToSource(r, 400, n))
      // p = d cot α + d tan δ.
      return 0.5 / (1 / tan + tanDraft)
    })
    const { volumeMm3, centreMm } = elementBody(own)
    const plate = Math.PI * 1e4 * 2
    expectWithin(volumeMm3, plate + volume, { rel: 1e-6, because: 'midpoint rule of the test' })
    expectWithin(centreMm[2], 300 + (plate * 1 - moment) / (plate + volume), { abs: 1e-5, because: 'as above' })
  })
})

const ownOf = (nd: number): NonNullable<FresnelLens['ownMaterial']> => ({
  name: 'Invented',
  family: 'plastic',
  index: { by: 'cauchy', a: nd, bUm2: 0, cUm4: 0 },
  absorption: { by: 'value', perMm: 0 },
  densityKgM3: 1000,
  keepBelowC: null,
  deflectionC: null,
  ignitionC: null,
})

describe('tunnel sheet', () => {
  const tunnel: Tunnel = {
    ...{ sides: 0, inMm: 60, outMm: 140, zInMm: 10, zOutMm: 40, reflectance: 0.9, specularShare: 1, scatterDeg: 0 },
  }
  const first = (t: Tunnel) => stretchesOf(t)[0]!
  test('a cone: π (r + R) times its slant 50; its centre nearer the wide end', () => {
    const { areaMm2, zMm } = stretchSheet(tunnel, first(tunnel))
    // Slant √(30² + 40²) = 50; centre (r + 2R)/(3(r + R)) = 170/300 of the way.
    expectWithin(areaMm2, Math.PI * 100 * 50, exact)
    expectWithin(zMm, 10 + (30 * 170) / 300, exact)
  })
  test('a square pyramid: four flats', () => {
    const square = { ...tunnel, sides: 4 }
    expectWithin(stretchSheet(square, first(square)).areaMm2, (4 * 50 * (60 + 140)) / 2, exact)
  })
  test('a rectangle: each pair of flats leans by itself', () => {
    const t: Tunnel = { ...tunnel, sides: 4, inHeightMm: 20, outHeightMm: 20 }
    const { areaMm2, zMm } = stretchSheet(t, first(t))
    // Two flats at ± x, 20 wide on a slant of 50; two at ± y, 60 to 140 wide, upright: 30 high.
    const [x, y] = [2 * 20 * 50, 2 * 30 * 100]
    expectWithin(areaMm2, x + y, exact)
    expectWithin(zMm, 10 + (30 * (x * 0.5 + (y * (60 + 280)) / 600)) / (x + y), exact)
  })
  test('steps: rings, squares, and what one of two rectangles has alone', () => {
    const step = (t: Tunnel) => {
      const [below, above] = stretchesOf(t)
      return stepAreaMm2(t, below!, above!)
    }
    const joint = { zMm: 20, belowMm: 60, aboveMm: 100, reflectance: 0.9, specularShare: 1, scatterDeg: 0 }
    expectWithin(step({ ...tunnel, joints: [joint] }), Math.PI * (2500 - 900), exact)
    expectWithin(step({ ...tunnel, sides: 4, joints: [joint] }), 1e4 - 3600, exact)
    expectWithin(step({ ...tunnel, joints: [{ ...joint, belowMm: 100, aboveMm: 60 }] }), Math.PI * 1600, exact)
    const own = { ...joint, belowHeightMm: 50, aboveHeightMm: 30 }
    const rectangle = { ...tunnel, sides: 4, inHeightMm: 50, outHeightMm: 50, joints: [own] } as Tunnel
    // 60 × 50 below, 100 × 30 above: they share 60 × 30.
    expectWithin(step(rectangle), 3000 + 3000 - 2 * 1800, exact)
  })
})

describe('fins', () => {
  const face: Face = gannetHead().face
  test('three on a square face, as long as it or as stated', () => {
    const sink = { kind: 'fins', count: 3, heightMm: 20, thicknessMm: 2, spacingMm: 8 } as const
    const square = { ...face, shape: 'square', sizeMm: 100 } as const
    expectWithin(finBodies(sink, square).volumeMm3, 3 * 100 * 20 * 2, exact)
    expectWithin(finBodies({ ...sink, lengthMm: 60 }, square).volumeMm3, 3 * 60 * 20 * 2, exact)
  })
  test('fins without room are left out, and pins', () => {
    const sink = { kind: 'fins', count: 30, heightMm: 20, thicknessMm: 2, spacingMm: 8 } as const
    const square = { ...face, shape: 'square', sizeMm: 50 } as const
    // At −145, −135 …: those within ± 25 are −25, −15 … 25.
    expect(finBodies(sink, square).count).toBe(6)
    const pins = { kind: 'pins', count: 100, heightMm: 20, diameterMm: 4, spacingMm: 6 } as const
    expect(finBodies(pins, square).count).toBe(25)
    expectWithin(finBodies(pins, square).volumeMm3, 25 * Math.PI * 4 * 20, exact)
  })
  test('beside the axis on a face that lies beside it', () => {
    const sink = { kind: 'fins', count: 2, heightMm: 20, thicknessMm: 2, spacingMm: 8 } as const
    const beside = {
      ...face,
      shape: 'polygon',
      corners: [
        [0, 10],
        [40, 10],
        [40, 30],
        [0, 30],
      ],
    } as Face
    const [x, y] = finBodies(sink, beside).centreMm
    expectWithin(x, 20, zero)
    expectWithin(y, 20, zero)
  })
  test.each(seeds(amount(4, 12)))('as heavy as heat takes them, seed %i', (seed) => {
    const { lamp } = randomPowerLamp(seed)
    const cooling = coolingOf(lamp).value
    if (cooling.sink.kind !== 'fins' && cooling.sink.kind !== 'pins') return
    const kg = finBodies(cooling.sink, lamp.face).volumeMm3 * 1e-9 * METALS[cooling.plate.metal].densityKgM3
    expectWithin(kg, makeSink(cooling, lamp.face, 20).finKg, { rel: 1e-9, because: 'the same geometry' })
  })
})
