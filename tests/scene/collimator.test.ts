// Collimators by table, by photometric file, and with an elliptical beam: what is traced has the flux and the widths that were stated.
import { describe, expect, test } from 'vitest'
import { brightnessRatio } from '../../src/checks/design/etendue.ts'
import { backwardIntensity } from '../../src/engine/backward/estimate.ts'
import { readLm63 } from '../../src/files/lm63.ts'
import { profileFromPhotometry } from '../../src/files/lm63Profile.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { Lamp, OpticType } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { profileDensity } from '../../src/optics/density.ts'
import * as KIND from '../../src/optics/kindRow.ts'
import { packCollimator } from '../../src/scene/profileRows.ts'
import { expectWithin } from '../kit/expect.ts'
import { withLines } from '../kit/lm63File.ts'
import { exitShare, oneEmitter, sceneOf, traceHere } from '../kit/traceHere.ts'

type Collimator = Extract<OpticType, { kind: 'collimator' }>
const RAD = Math.PI / 180
const BASE: Collimator = {
  ...{ kind: 'collimator', id: 'o', name: 'Invented', exitDiameterMm: 10, heightMm: 10 },
  ...{ fwhmDeg: 20, shape: 'gaussian', efficiency: 0.8 },
}
const within = (lamp: Lamp, deg: number) =>
  exitShare(traceHere(lamp, { rays: 32_768 }), (e) => e.dz >= Math.cos(deg * RAD))

/** cd in a direction, mean over a cone of a twentieth of a degree. */
const cdAt = (lamp: Lamp, thetaDeg: number, phiDeg: number) =>
  backwardIntensity(sceneOf(lamp), {
    ...{ thetaRad: thetaDeg * RAD, phiRad: phiDeg * RAD, coneHalfRad: 0.05 * RAD },
    ...{ seed: 1, rays: 512 },
  }).cd

describe('a table', () => {
  const optic: Collimator = {
    ...BASE,
    shape: 'table',
    profile: { kind: 'table', thetaDeg: [0, 20], intensity: [1, 0] },
  }
  const lamp = oneEmitter({ optic, fluxLm: 1000 })
  // I = I₀ (1 − θ/a): ∫ I sinθ dθ from 0 to t = I₀ (1 − cos t + t cos t/a − sin t/a), by parts.
  const a = 20 * RAD
  const below = (t: number) => 1 - Math.cos(t) + (t * Math.cos(t) - Math.sin(t)) / a

  test('its flux within an angle, after the efficiency', () => {
    for (const deg of [5, 10, 30]) {
      const share = within(lamp, deg)
      const whole = (0.8 * below(Math.min(deg * RAD, a))) / below(a)
      expectWithin(share.value, whole, { sigmas: 4, se: share.se + 1e-5 })
    }
  })
  test('half its peak at 10°, and its peak from its flux', () => {
    expectWithin(cdAt(lamp, 0.05, 0), (800 / (2 * Math.PI * below(a))) * (1 - 0.05 / 20), {
      rel: 2e-3,
      because: 'mean over the cone beside a cusp',
    })
    expectWithin(cdAt(lamp, 10, 77), (0.5 * 800) / (2 * Math.PI * below(a)), {
      rel: 1e-3,
      because: 'nodes of the table',
    })
  })
})

test('a photometric file of 1000 cos⁴γ: half the peak at arccos 2^(−1/4), 5/π of its lumens on the axis', () => {
  const read = readLm63(withLines({}))
  const made = read.ok ? profileFromPhotometry(read.photometry) : read
  if (!made.ok) throw new Error(made.why)
  const lamp = oneEmitter({ optic: { ...BASE, shape: 'table', profile: made.profile, efficiency: 1 }, fluxLm: 1000 })
  // Φ = 2π I₀/(m + 1) with m = 4; the file's steps of 10°, linear between, give 1.0 % more flux (1269.3 lm by its own sum for 400π).
  const peak = (1000 * 1000) / made.fluxLm
  expectWithin(cdAt(lamp, 0, 0), peak, { rel: 2e-3, because: 'the file’s zonal sum against the table’s integral' })
  const half = Math.acos(2 ** -0.25) / RAD
  expectWithin(cdAt(lamp, half, 30) / peak, 0.5, { rel: 0.02, because: 'linear between steps of 10°' })
})

describe('an elliptical beam', () => {
  const optic: Collimator = { ...BASE, fwhmDeg: 10, fwhmYDeg: 30 }

  test('half its peak at half of each width, and turned with the optic', () => {
    const lamp = oneEmitter({ optic })
    const peak = cdAt(lamp, 0, 0)
    const close = { rel: 3e-3, because: 'the map’s 0.06 % of the peak, and the cone' }
    expectWithin(cdAt(lamp, 5, 0) / peak, 0.5, close)
    expectWithin(cdAt(lamp, 15, 90) / peak, 0.5, close)
    const turned = oneEmitter({ optic: { ...optic, turnDeg: 90 } })
    expectWithin(cdAt(turned, 5, 90) / peak, 0.5, close)
    expectWithin(cdAt(turned, 15, 180) / peak, 0.5, close)
  })

  test.each([
    [10, 30, 6e-4],
    [4, 32, 1.5e-3],
    [80, 10, 1.5e-3],
  ])('%d° by %d°: the map is within %f of the peak of the formula', (fx, fy, most) => {
    const p = packCollimator({ ...BASE, fwhmDeg: fx, fwhmYDeg: fy })
    const kinds = new Float32Array(KIND.size)
    kinds[KIND.profile] = 2
    kinds[KIND.profileRows] = p.rows
    const density = (t: number, f: number) =>
      profileDensity(kinds, 0, p.packed, Math.sin(t) * Math.cos(f), Math.sin(t) * Math.sin(f), Math.cos(t))
    const peak = density(1e-4, 0)
    let worst = 0
    for (let t = 0.25; t < 80; t += 0.5) {
      for (let f = 0.3; f < 360; f += 2.3) {
        const q = (t * Math.cos(f * RAD)) / fx
        const r = (t * Math.sin(f * RAD)) / fy
        const off = density(t * RAD, f * RAD) / peak - Math.exp(-4 * Math.LN2 * (q * q + r * r))
        worst = Math.max(worst, Math.abs(off))
      }
    }
    expect(worst).toBeLessThan(most)
  })
})

describe('étendue', () => {
  const emitter = { ...oneEmitter().emitterTypes[0]!, source: { shape: 'disc' as const, diameterMm: 10 } }
  test('a Lambertian table from an exit as large as the emitter is just as bright', () => {
    const thetaDeg = Array.from({ length: 91 }, (_, i) => i)
    const intensity = thetaDeg.map((t) => Math.max(0, Math.cos(t * RAD)))
    const table: Collimator = {
      ...BASE,
      efficiency: 1,
      shape: 'table',
      profile: { kind: 'table', thetaDeg, intensity },
    }
    // Chords of steps of 1° lie under the cosine by (1°)²/12 of it in the mean.
    expectWithin(brightnessRatio(emitter, table), 1, { rel: 1e-4, because: 'chords' })
    const map = { kind: 'map' as const, thetaDeg, phiDeg: [0, 30, 200], intensity: [intensity, intensity, intensity] }
    expectWithin(brightnessRatio(emitter, { ...table, profile: map }), 1, { rel: 1e-4, because: 'chords' })
  })
  test('a narrow elliptical Gaussian fills π F_x F_y/(4 ln 2) of solid angle', () => {
    const optic: Collimator = { ...BASE, fwhmDeg: 4, fwhmYDeg: 8, efficiency: 1 }
    const ratio = Math.PI / ((Math.PI * 4 * 8 * RAD * RAD) / (4 * Math.LN2))
    expectWithin(brightnessRatio(emitter, optic), ratio, { rel: 3e-3, because: 'sin θ for θ' })
  })
})

test('what a collimator’s shape wants and can’t have', () => {
  const why = (part: object) => {
    const lamp = gannetHead()
    const read = readLamp({ ...lamp, opticTypes: lamp.opticTypes.map((o) => ({ ...o, ...part })).slice(0, 1) })
    return read.ok ? '' : read.why.join(' ')
  }
  const profile = { kind: 'table', thetaDeg: [0, 10, 5], intensity: [0, 0, 0] }
  expect(why({ shape: 'table' })).toContain('opticTypes[0].profile: nothing stands here; expected the table.')
  expect(why({ profile })).toContain('only with the shape "table"')
  expect(why({ shape: 'cosine', fwhmYDeg: 5 })).toContain('only with the shape "gaussian"')
  const faulty = why({ shape: 'table', profile })
  expect(faulty).toContain('opticTypes[0].profile.thetaDeg[2]: 5 does not fit; the column must rise.')
  expect(faulty).toContain('opticTypes[0].profile.intensity: nowhere above zero.')
})
