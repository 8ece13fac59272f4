// From a photometric file to an emitter's profile, and on to traced light.
import { describe, expect, test } from 'vitest'
import { type Photometry, readLm63 } from '../../src/files/lm63.ts'
import { lumensOf } from '../../src/files/lm63Lumens.ts'
import { profileFromPhotometry } from '../../src/files/lm63Profile.ts'
import { LIMITS } from '../../src/lamp/limits.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { Profile } from '../../src/lamp/schema.ts'
import { linear } from '../../src/num/interpolate.ts'
import { gaussLegendre, integrate } from '../../src/num/quadrature.ts'
import { expectWithin } from '../kit/expect.ts'
import { COS4_CD, type FileParts, fileOf, withLines } from '../kit/lm63File.ts'
import { exitShare, oneEmitter, traceHere } from '../kit/traceHere.ts'

const RAD = Math.PI / 180

function photometry(text: string): Photometry {
  const out = readLm63(text)
  if (!out.ok) throw new Error(out.why)
  return out.photometry
}
function made(parts: FileParts) {
  const out = profileFromPhotometry(photometry(fileOf(parts)))
  if (!out.ok) throw new Error(out.why)
  // Whatever comes of a file, a lamp may hold it.
  const lamp = oneEmitter({ profile: out.profile, faceSizeMm: 100 })
  lamp.emitterTypes[0]!.thermalResistanceKW = 5
  expect(readLamp(lamp)).toMatchObject({ ok: true })
  return out
}
const COS4 = { vertical: [0, 10, 20, 30, 40, 50, 60, 70, 80, 90], candela: [COS4_CD] }

describe('tables', () => {
  test('the worked file (row 1.96): relative to its peak, lumens as the file integrates', () => {
    const out = made(COS4)
    expect(out.profile).toEqual({
      kind: 'table',
      thetaDeg: COS4.vertical,
      intensity: [1, 0.9406, 0.77973, 0.5625, 0.34436, 0.17071, 0.0625, 0.013684, 0.000909, 0],
    })
    expect(out.fluxLm).toBe(1269.3)
    expect(out.note).toBe(
      'LM-63 file (2019): straight down is the emitter’s axis. None of its light goes beyond 90°. The same all round.',
    )
  })

  test('light beyond 90° is left out, with a note', () => {
    const out = made({ vertical: [0, 60, 120, 180], candela: [[300, 200, 100, 0]] })
    // A point between at 90°: (200 + 100) / 2 of 300.
    expect(out.profile).toMatchObject({ thetaDeg: [0, 60, 90], intensity: [1, 0.66667, 0.5] })
    const even = made({ vertical: [0, 180], candela: [[1, 1]] })
    expect(even.note).toContain('50.0 % of its light goes beyond 90° and was left out.')
    expectWithin(even.fluxLm, 2 * Math.PI, { rel: 1e-4, because: 'five digits' })
    // Even below, falling to nothing at the zenith: above 90° ∫ (1 − 2t/π) cos t dt = 2/π of what is below.
    const falling = made({ vertical: [0, 90, 180], candela: [[1, 1, 0]] })
    expect(falling.note).toContain(`${(100 * (2 / Math.PI / (1 + 2 / Math.PI))).toFixed(1)} % of its light`)
    expect(made({ vertical: [0, 90, 91, 180], candela: [[1, 0, 1e-5, 0]] }).note).toContain('Under 0.1 % of its light')
  })

  test('a file of the upper half alone has no front', () => {
    const why = 'No light below 90° from straight down; expected some, since that side becomes the emitter’s front.'
    const up = { vertical: [90, 180], candela: [[1, 1]] }
    expect(profileFromPhotometry(photometry(fileOf(up)))).toEqual({ ok: false, why })
    const dark = { vertical: [0, 90, 180], candela: [[0, 0, 1]] }
    expect(profileFromPhotometry(photometry(fileOf(dark)))).toEqual({ ok: false, why })
  })

  test('planes that are all alike make a table', () => {
    const out = made({
      vertical: [0, 90],
      horizontal: [0, 45, 90],
      candela: [
        [2, 1],
        [2, 1],
        [2, 1],
      ],
    })
    expect(out.profile).toEqual({ kind: 'table', thetaDeg: [0, 90], intensity: [1, 0.5] })
  })

  test('more angles than a lamp may hold are thinned, ends kept', () => {
    const vertical = Array.from({ length: 1801 }, (_, i) => i / 20)
    const out = made({ vertical, candela: [vertical.map((t) => 1000 * Math.cos(t * RAD) ** 4)] })
    expect(out.profile.thetaDeg).toHaveLength(LIMITS.tableRows)
    expect(out.profile.thetaDeg[0]).toBe(0)
    expect(out.profile.thetaDeg.at(-1)).toBe(90)
    expect(out.note).toContain('400 of its 1801 angles from the axis are kept.')
    const { thetaDeg, intensity } = out.profile as Extract<Profile, { kind: 'table' }>
    for (const [i, t] of thetaDeg.entries())
      expectWithin(intensity[i]!, Math.cos(t * RAD) ** 4, { abs: 1e-5, because: 'five digits' })
  })
})

describe('maps', () => {
  const planes = {
    vertical: [0, 90],
    horizontal: [0, 90, 180, 270],
    candela: [
      [4, 1],
      [4, 2],
      [4, 3],
      [4, 4],
    ],
  }

  test('turned face up: what the file counts counterclockwise from above, the target sees clockwise', () => {
    const out = made(planes)
    expect(out.profile).toEqual({
      kind: 'map',
      thetaDeg: [0, 90],
      phiDeg: [0, 90, 180, 270],
      intensity: [
        [1, 0.25],
        [1, 1],
        [1, 0.75],
        [1, 0.5],
      ],
    })
    expect(out.note).toContain('so that its 90° lies along −y')
  })

  test('over 400 planes are thinned', () => {
    const horizontal = Array.from({ length: 721 }, (_, i) => i / 2)
    const out = made({ vertical: [0, 90], horizontal, candela: horizontal.map((h) => [10, 5 + Math.cos(h * RAD)]) })
    const { phiDeg, intensity } = out.profile as Extract<Profile, { kind: 'map' }>
    expect(phiDeg).toHaveLength(LIMITS.tableRows)
    expect(out.note).toContain('400 of its 720 planes are kept.')
    for (const [i, phi] of phiDeg.entries())
      expectWithin(intensity[i]![1]!, 0.5 + Math.cos(phi * RAD) / 10, { abs: 1e-5, because: 'five digits' })
  })
})

describe('traced', () => {
  const SHARES = [10, 20, 30, 45, 60, 75]
  const rule = gaussLegendre(8)
  /** Share inside a cone of I linear in angle: what the file says, exactly. */
  const inside = (half: number) => {
    const to = (end: number) =>
      COS4.vertical.slice(1).reduce((sum, b, i) => {
        const [a, e] = [COS4.vertical[i]!, Math.min(b, end)]
        const f = (t: number) => linear(COS4.vertical, COS4_CD, t) * Math.sin(t * RAD)
        return a < e ? sum + integrate(f, a, e, rule) : sum
      }, 0)
    return to(half) / to(90)
  }

  test('the cos⁴ file lights cones as 1 − cos⁵, within what ten angles cost and 4 standard errors', () => {
    const out = profileFromPhotometry(photometry(withLines({})))
    if (!out.ok) throw new Error(out.why)
    const run = traceHere(oneEmitter({ profile: out.profile }), { rays: 1 << 16, seed: 5 })
    for (const half of SHARES) {
      const share = exitShare(run, (e) => e.dz >= Math.cos(half * RAD))
      const exact = 1 - Math.cos(half * RAD) ** 5
      const cost = Math.abs(inside(half) - exact)
      expect(cost, 'ten angles cost under one hundredth').toBeLessThan(0.01)
      expectWithin(share.value, exact, { abs: cost + 4 * share.se, because: 'interpolation error + 4 standard errors' })
      // What the file itself says is met by far closer: the tracer's own table is fine, values have five digits.
      expectWithin(share.value, inside(half), { abs: 2e-5 + 4 * share.se, because: 'five digits + 4 standard errors' })
    }
  })

  test('a file with one bright plane lights that side of the lamp: its 90° is −y', () => {
    const v = [0, 30, 60, 90]
    const candela = [0, 1, 0, 0].map((on) => [0, 100 * on, 100 * on, 0])
    const out = made({ vertical: v, horizontal: [0, 90, 180, 270], candela })
    const run = traceHere(oneEmitter({ profile: out.profile }), { rays: 1 << 13, seed: 2 })
    const at = (which: (e: { dx: number; dy: number }) => boolean) => exitShare(run, which).value
    expect(at((e) => e.dy < 0)).toBe(1)
    const right = exitShare(run, (e) => e.dx > 0)
    expectWithin(right.value, 0.5, { sigmas: 4, se: Math.max(right.se, 1e-4) })
    // Flux of the map is the file's.
    expectWithin(
      lumensOf(photometry(fileOf({ vertical: v, horizontal: [0, 90, 180, 270], candela }))).lumens,
      out.fluxLm,
      {
        rel: 5e-5,
        because: 'five digits',
      },
    )
  })
})
