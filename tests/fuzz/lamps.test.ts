// Whatever the lamp, the run is valid: its ledger closes, nothing is NaN, light that leaves heads out.
import { describe, expect, test } from 'vitest'
import { findLensMaterialFaults } from '../../src/lamp/materialChecks.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import * as P from '../../src/optics/params.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { FATES } from '../../src/run/types.ts'
import { findRunFaults } from '../../src/run/validate.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { otherMaterial, randomLamp } from '../kit/randomLamp.ts'
import { expectSameRun } from '../kit/sameRun.ts'
import { axialCd, deliveredShare, endShare, exitsOf, type sceneOf, traceHere } from '../kit/traceHere.ts'

const RAYS = 1 << 13
const saying = (lamp: Lamp) => {
  const { sides, specularShare } = lamp.tunnel ?? {}
  return `optic ${lamp.opticTypes[0]!.kind}, profile ${lamp.emitterTypes[0]!.profile.kind}, tunnel ${sides} ${specularShare}, lens ${JSON.stringify(lamp.lens)}`
}

const met = { lens: new Set<string>(), fates: new Set<string>() }

describe.each(seeds(amount(20, 320)))('seed %i', (seed) => {
  const lamp = randomLamp(seed)
  test('a valid run', () => {
    const run = traceHere(lamp, { rays: RAYS, seed })
    expect(findRunFaults(run), saying(lamp)).toEqual([])
    const all = endShare(run, ...FATES)
    expectWithin(all.value, 1, { abs: 1e-9, because: 'the ledger closes to rounding' })
    const wrong = exitsOf(run).filter(
      (e) => !(e.dz > 0 && e.weight > 0 && e.weight <= 1 + 1e-6 && e.nm >= 380 && e.nm <= 780),
    )
    expect(wrong).toEqual([])
    // Delivered light is in the profile and on the sphere, each once.
    const at = tallyLayout(run.shape)
    for (const t of run.tallies) {
      const delivered = t[at.fateLm + FATES.indexOf('delivered')]! + t[at.fateLm + FATES.indexOf('deliveredViaRiser')]!
      const sum = (from: number, to: number) => t.subarray(from, to).reduce((a, b) => a + b, 0)
      expectWithin(sum(at.profileLm, at.targetLm), delivered, { rel: 1e-9, because: 'rounding' })
      // The sphere's map holds at least all that is beyond the fine part; single precision.
      const beyond = sum(at.profileLm + run.shape.fineBins, at.targetLm)
      const sphere = sum(at.sphereLm, at.lensW)
      expect(sphere).toBeGreaterThanOrEqual(beyond * (1 - 1e-4))
      expect(sphere).toBeLessThanOrEqual(delivered * (1 + 1e-4))
      expect(sum(at.profileRiserLm, at.windowLm)).toBeLessThanOrEqual(delivered * (1 + 1e-9))
    }
    const sun = traceHere(lamp, { rays: 1 << 11, seed, sunTiltDeg: seed % 60 })
    expect(findRunFaults(sun), saying(lamp)).toEqual([])
    expect(exitsOf(sun).filter(({ dz }) => !(dz < 0))).toEqual([])
    met.lens.add(lamp.lens ? lamp.lens.kind : 'none')
    for (const fate of FATES) if (endShare(run, fate).value > 0) met.fates.add(fate)
  })
})

test.each(seeds(amount(12, 160)))(
  'seed %i with a lens of another material: a permitted lamp, a valid run, of the sun too',
  (seed) => {
    const lamp = otherMaterial(randomLamp(seed), seed)
    expect(findLensMaterialFaults(lamp.lens ?? { kind: 'ideal', zMm: 1, focalMm: 1, diameterMm: 1 })).toEqual([])
    for (const sunTiltDeg of [undefined, 20] as const) {
      const run = traceHere(lamp, { rays: 1 << 11, seed, ...(sunTiltDeg === undefined ? {} : { sunTiltDeg }) })
      expect(findRunFaults(run), saying(lamp)).toEqual([])
      expectWithin(endShare(run, ...FATES).value, 1, { abs: 1e-9, because: 'the ledger closes to rounding' })
    }
  },
)

test('the lamps above between them met every kind of lens, and light ended everywhere it can', () => {
  expect([...met.lens].sort()).toEqual(['fresnel', 'ideal', 'none', 'solid'])
  // Rounding and the bounce limit are for no light to end at. Nothing leaves by the gap at the lens before the lens has sent it back, and then
  // it stands on the lens's line.
  const never = ['limit', 'lost', 'leakedLensGap']
  for (const fate of FATES) if (!never.includes(fate)) expect(met.fates, fate).toContain(fate)
})

describe('double the flux: double the lumens, the same angles to the bit', () => {
  test.each([3, 14, 27])('seed %i', (seed) => {
    const lamp = randomLamp(seed)
    const twice = structuredClone(lamp)
    twice.emitterTypes[0]!.fluxLm *= 2
    const a = traceHere(lamp, { rays: RAYS })
    const b = traceHere(twice, { rays: RAYS })
    expect(b.shape).toEqual(a.shape)
    expectSameRun(b, a)
    expect(b.emittedLm).toBe(2 * a.emittedLm)
    expect(axialCd(b).value).toBe(2 * axialCd(a).value)
  })
})

describe('the whole layout turned about the axis', () => {
  test.each(seeds(amount(6, 24)))('seed %i: profile and ledger stay, where the parts are round', (seed) => {
    const lamp = randomLamp(seed * 3)
    lamp.face.shape = 'round'
    if (lamp.tunnel) lamp.tunnel.sides = 0
    if (lamp.lens?.kind === 'fresnel') lamp.lens.aperture = 'round'
    const turned = structuredClone(lamp)
    turned.boards[0]!.turnDeg += 37
    const a = traceHere(lamp, { rays: 1 << 14, seed: 1 })
    const b = traceHere(turned, { rays: 1 << 14, seed: 2 })
    const share = [deliveredShare(a), deliveredShare(b)] as const
    expectWithin(share[1].value, share[0].value, {
      abs: 4.5 * Math.hypot(share[0].se, share[1].se) + 1e-6,
      because: '4.5 standard errors of the difference, twelve comparisons',
    })
    const cd = [axialCd(a), axialCd(b)] as const
    expectWithin(cd[1].value, cd[0].value, {
      abs: 4.5 * Math.hypot(cd[0].se, cd[1].se) + 1e-6 * cd[0].value,
      because: '4.5 standard errors of the difference, twelve comparisons',
    })
  })
})

describe('a lamp ten times larger or smaller has the same angles, without absorption', () => {
  test.each([2, 5, 8, 11, 16])('seed %i', (seed) => {
    const lamp = randomLamp(seed)
    const edit = (scene: ReturnType<typeof sceneOf>) => {
      scene.params[P.lensAbsorption] = 0
    }
    const a = traceHere(lamp, { rays: RAYS, edit })
    for (const factor of [0.1, 10]) {
      const b = traceHere(scaled(lamp, factor), { rays: RAYS, edit })
      // The same rays but for single-precision rounding of the sizes: a few may end elsewhere at an edge.
      expectWithin(deliveredShare(b).value, deliveredShare(a).value, {
        abs: 2e-3,
        because: 'some rays in 8192 near an edge',
      })
      const mean = (run: typeof a) => {
        const exits = exitsOf(run)
        return exits.reduce((sum, e) => sum + e.weight * e.dz, 0) / exits.reduce((sum, e) => sum + e.weight, 0)
      }
      expectWithin(mean(b), mean(a), { abs: 2e-3, because: 'some rays in 8192 near an edge' })
    }
  })
})

/** Every length times a factor. */
function scaled(lamp: Lamp, factor: number): Lamp {
  const walk = (value: unknown, key = ''): unknown => {
    if (typeof value === 'number') return key.endsWith('Mm') ? value * factor : value
    if (Array.isArray(value)) return value.map((v) => walk(v, key))
    if (value && typeof value === 'object')
      return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, walk(v, k)]))
    return value
  }
  return walk(lamp) as Lamp
}
