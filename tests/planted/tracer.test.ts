// The own tracer against closed forms, so that it may judge the program.
import { describe, expect, test } from 'vitest'
import { refractiveIndex } from '../../src/library/materials.ts'
import { expectWithin } from '../kit/expect.ts'
import { crossesAxis, ledgerOf, piecesOf } from './bench.ts'
import { fresnelLens, idealLens, lampOf, type Parts, solidLens } from './document.ts'
import { facetSlope } from './grooves.ts'
import { type Light, SUN_HALF_RAD } from './light.ts'
import { makeDice, makeRandom } from './random.ts'
import { makeTracer } from './tracer.ts'
import { measureAt } from './truth.ts'

const LAMBERTIAN = { kind: 'cosine', fwhmDeg: 120 } as const
const SUN: Light = { light: 'sun', tiltDeg: 0, azimuthDeg: 0 }
const LAMP: Light = { light: 'lamp' }
const RAD = Math.PI / 180

const lampWith = (parts: Partial<Parts>) =>
  lampOf({
    name: 'Test',
    kinds: [{ source: { shape: 'disc', diameterMm: 1 }, profile: LAMBERTIAN, watts: 1, heightMm: 0 }],
    spots: [{ xMm: 0, yMm: 0 }],
    lens: null,
    faceSizeMm: 10,
    ...parts,
  })

describe('ideal lens', () => {
  const [z, f] = [400, 300]
  const lamp = lampWith({ lens: idealLens(z, f, 100) })

  test('image of the sun: 2 f tan 0.2666° wide (geometrical optics; check-values 2.58)', () => {
    const rim = [0, 0.3, 1].flatMap((r) => piecesOf(lamp, SUN, r, 0.1, 1 - 1e-12, 0.25))
    for (const p of rim.filter((q) => q.dz < 0)) {
      const s = (z - f - p.z) / p.dz
      expectWithin(Math.hypot(p.x + s * p.dx, p.y + s * p.dy), f * Math.tan(SUN_HALF_RAD), {
        rel: 1e-6,
        because: 'rounding of the cosine of a small angle',
      })
    }
    // check-values 2.58 gives the image of a sun of 0.266564°: 2.791471 mm at f = 300.
    expectWithin(2 * f * Math.tan(0.266564 * RAD), 2.791471, { abs: 1e-6, because: 'as printed' })
  })

  test('all of the sun on a disc wider than its image', () => {
    const tracer = makeTracer(lamp, SUN)
    const truth = measureAt(tracer, [0, 0, z - f], [0, 0, -1], { discMm: 10, seed: 1, pilotRays: 2000 })!
    // DNI of 1 kW/m² × (aperture / disc)².
    expectWithin(truth.kWm2, (100 / 10) ** 2, { sigmas: 4, se: truth.se })
  })

  test('a tilted sun focuses at f tan(tilt), away from it', () => {
    const rows = piecesOf(lamp, { light: 'sun', tiltDeg: 20, azimuthDeg: 0 }, 0.7, 0.2).filter((p) => p.dz < 0)
    const p = rows[0]!
    const s = (z - f - p.z) / p.dz
    expectWithin(p.x + s * p.dx, -f * Math.tan(20 * RAD), { abs: 1e-9, because: 'rounding' })
    expectWithin(p.y + s * p.dy, 0, { abs: 1e-9, because: 'rounding' })
  })
})

describe('ghosts of a plano-convex lens', () => {
  // A thin pencil near the axis: sun straight on, at 0.3 of a small radius, split where it may.
  const ghostsOf = (curved: 'target' | 'source') => {
    const lens = { ...solidLens(500, 400, 30, curved), thicknessMm: 4 }
    const rows = piecesOf(lampWith({ lens }), SUN, 0.3, 0)
    // For a tilt of 0 the ray's azimuth 0 is +x. Ghosts go up.
    return { lens, up: rows.filter((p) => p.dz > 0 && p.watts > 0.01) }
  }
  const middle = refractiveIndex('pmma', middleNm())
  const near = { rel: 3e-3, because: 'the pencil is 4.5 mm off the axis: spherical aberration of second order' }

  test('flat side to the sun: the flat reflects as a plane mirror, no focus', () => {
    const { up } = ghostsOf('source')
    expect(up.filter((p) => Math.abs(p.dx) < 1e-12)).toHaveLength(1)
  })
  test('flat side to the sun: the curved side from within, R/(2n) less t/n (derived: mirror of R/2 in glass, seen through a flat)', () => {
    const { lens, up } = ghostsOf('source')
    const ghost = up.find((p) => p.dx < -1e-6)!
    const flat = lens.zMm
    expectWithin(crossesAxis(ghost) - flat, (lens.radiusMm / 2 - lens.thicknessMm) / middle, near)
  })
  test('curved side to the sun: from outside a convex mirror, virtual focus R/2 within (textbook)', () => {
    const { lens, up } = ghostsOf('target')
    const ghost = up.find((p) => p.dx > 1e-6)!
    expectWithin(lens.zMm + lens.thicknessMm - crossesAxis(ghost), lens.radiusMm / 2, near)
  })
  test('curved side to the sun: off the flat and out again (derived: two refractions of power (n − 1)/R each, 2t/n apart)', () => {
    const { lens, up } = ghostsOf('target')
    const ghost = up.find((p) => p.dx < -1e-6)!
    const power = (middle - 1) / lens.radiusMm
    const apart = (2 * lens.thicknessMm) / middle
    const back = (1 - apart * power) / (power * (2 - apart * power))
    expectWithin(crossesAxis(ghost) - (lens.zMm + lens.thicknessMm), back, near)
  })
})

/** Wavelength of a sun ray drawn at the middle of the distribution, from the law itself. */
function middleNm(): number {
  const power = (nm: number) => 1 / (nm ** 5 * Math.expm1(1.438776877e7 / (nm * 5772)))
  const n = 40_000
  const at = (i: number) => 380 + (400 * (i + 0.5)) / n
  const total = Array.from({ length: n }, (_, i) => power(at(i))).reduce((a, b) => a + b, 0)
  let below = 0
  for (let i = 0; i < n; i++) {
    below += power(at(i))
    if (below >= total / 2) return at(i)
  }
  return 780
}

describe('Fresnel lens', () => {
  test.each(['target', 'source'] as const)(
    'grooves to the %s: a ray from the design point through the middle of a facet leaves straight (derived)',
    (grooves) => {
      const d = makeDice(makeRandom(1))
      const base = fresnelLens(d, 200, 200, 160, grooves)
      const lens = { ...base, designNm: 555, pitchMm: 1, material: 'pmma' as const }
      const source = { shape: 'disc' as const, diameterMm: 0.01 }
      const lamp = lampWith({ lens, kinds: [{ source, profile: LAMBERTIAN, watts: 1, heightMm: 0 }] })
      for (const k of [0, 3, 40, 79]) {
        const r = k + 0.5
        const n = refractiveIndex('pmma', 555)
        const sin = sinFor(r, lens.thicknessMm, n, grooves)
        const rows = piecesOf(lamp, LAMP, 0, 0, sin * sin)
        const out = rows.filter((p) => p.dz > 0 && p.z > 199).sort((a, b) => b.watts - a.watts)[0]!
        expectWithin(out.dx, 0, { abs: 1e-9, because: 'rounding' })
      }
    },
  )
  /** sin of the angle at which a ray from 200 mm under the lens meets the plane of the valleys at radius r. */
  function sinFor(r: number, t: number, n: number, grooves: 'target' | 'source'): number {
    let [low, high] = [0, 1]
    for (let i = 0; i < 60; i++) {
      const s = (low + high) / 2
      const [tan, within] = [s / Math.sqrt(1 - s * s), s / Math.sqrt(n * n - s * s)]
      const reached = grooves === 'target' ? 200 * tan + t * within : 200 * tan
      if (reached < r) low = s
      else high = s
    }
    return low
  }
  test('slopes of check-values 2d, n = 1.49: 27.2889° and 25.0111° at r = 100, f = 400', () => {
    // The library has no such material: the printed slope must lie between those of a lower and a higher index.
    const slopeFor = (material: 'pmma' | 'crown', grooves: 'target' | 'source') => {
      const lens = fresnelLens(makeDice(makeRandom(1)), 400, 400, 400, grooves)
      return facetSlope({ ...lens, material, thicknessMm: 1e-6 }, 100) / RAD
    }
    for (const [grooves, printed] of [
      ['target', 27.2889],
      ['source', 25.0111],
    ] as const) {
      const n = refractiveIndex('pmma', 587.6)
      const w = Math.atan(0.25)
      const form = (index: number) =>
        grooves === 'target'
          ? Math.atan(Math.sin(w) / (Math.sqrt(index ** 2 - Math.sin(w) ** 2) - 1))
          : Math.atan(Math.sin(w) / (index - Math.cos(w)))
      expectWithin(form(1.49) / RAD, printed, { abs: 1e-4, because: 'as printed' })
      expectWithin(slopeFor('pmma', grooves), form(n) / RAD, { abs: 1e-5, because: 'a thickness of a nanometre' })
      expect(slopeFor('crown', grooves)).toBeLessThan(printed)
    }
  })
})

describe('mirror tunnel', () => {
  const tunnel = (over: object) => ({
    sides: 4,
    inMm: 100,
    outMm: 100,
    zInMm: 0,
    zOutMm: 300,
    reflectance: 1,
    specularShare: 1,
    scatterDeg: 0,
    ...over,
  })
  test('a flat wall shows the source at its mirror image (derived)', () => {
    const source = { shape: 'disc' as const, diameterMm: 0.01 }
    const kinds = [{ source, profile: LAMBERTIAN, watts: 1, heightMm: 0 }]
    const lamp = lampWith({ kinds, spots: [{ xMm: 20, yMm: 5 }], tunnel: tunnel({}), faceSizeMm: 100 })
    // Towards +x (azimuth 0), at 45°: one hit on the flat at x = 50.
    const rows = piecesOf(lamp, LAMP, 0, 0, 0.5, 0)
    const p = rows.find((q) => q.dx < 0)!
    const s = -p.z / p.dz
    expectWithin(p.x + s * p.dx, 2 * 50 - 20, { abs: 1e-9, because: 'rounding' })
    expectWithin(p.y + s * p.dy, 5, { abs: 1e-9, because: 'rounding' })
  })
  test.each([
    [0.85, 1, 0.77338],
    [0.95, 2, 0.84149],
  ])(
    'round tube, R %f, L/D %f, Lambertian input: T of Swift and Smith 1995 (check-values 2.60, 2.64)',
    (reflectance, p, expected) => {
      const source = { shape: 'disc' as const, diameterMm: 99.9999 }
      const kinds = [{ source, profile: LAMBERTIAN, watts: 1, heightMm: 0 }]
      const tube = tunnel({ sides: 0, reflectance, zOutMm: 100 * p })
      const rays = 30_000
      const shares = ledgerOf(lampWith({ kinds, tunnel: tube, faceSizeMm: 100 }), LAMP, rays)
      // The weight of a ray lies in 0 to 1: its deviation is at most √(T (1 − T)).
      const se = Math.sqrt((expected * (1 - expected)) / rays)
      expectWithin(shares.get('delivered')!, expected, { sigmas: 4, se })
    },
  )
})

describe('a Lambertian disc', () => {
  test.each([1, 2])('on its axis at %f diameters: π L R²/(R² + d²) (check-values 2.48)', (diameters) => {
    const [radius, watts] = [20, 10]
    const source = { shape: 'disc' as const, diameterMm: 2 * radius }
    const lamp = lampWith({ kinds: [{ source, profile: LAMBERTIAN, watts, heightMm: 0 }] })
    const d = 2 * radius * diameters
    const options = { discMm: 4, seed: 3, pilotRays: 20_000, mostRays: 100_000 }
    const truth = measureAt(makeTracer(lamp, LAMP), [0, 0, d], [0, 0, 1], options)!
    const exitance = watts / (Math.PI * radius ** 2 * 1e-6) / 1000
    expectWithin(truth.kWm2, (exitance * radius ** 2) / (radius ** 2 + d ** 2), { sigmas: 4, se: truth.se })
    expect(truth.se).toBeLessThan(0.1 * truth.kWm2)
  })
  test('to a parallel disc: view factor of coaxial discs, Howell C-41 (check-values 2.44: 0.1339313)', () => {
    const source = { shape: 'disc' as const, diameterMm: 20 }
    const lamp = lampWith({ kinds: [{ source, profile: LAMBERTIAN, watts: 1, heightMm: 0 }] })
    const truth = measureAt(makeTracer(lamp, LAMP), [0, 0, 50], [0, 0, 1], { discMm: 40, seed: 4 })!
    const area = Math.PI * 20 ** 2 * 1e-6 * 1000
    expectWithin(truth.kWm2 * area, 0.1339313, { sigmas: 4, se: truth.se * area })
  })
})
