import { describe, expect, test } from 'vitest'
import { type EyeReading, readEye } from '../../src/hazard/eye.ts'
import { weighRays } from '../../src/hazard/eyeRays.ts'
import { blueLightWeight, retinalThermalWeight } from '../../src/library/eyeWeights.ts'
import { expectWithin } from '../kit/expect.ts'
import { type DrawnLight, drawnLight, inCone, onDiscAt } from '../kit/leavingLight.ts'

const WATTS = 100
const NO_BOUND = { blueWm2sr: 1e12, thermalWm2sr: 1e12 }
const light = (o: Omit<DrawnLight, 'rays' | 'watts'> & { rays?: number }) =>
  weighRays([drawnLight({ rays: 200_000, watts: WATTS, ...o })])
const read = (rays: ReturnType<typeof light>, d: number, x = 0, source = NO_BOUND): EyeReading =>
  readEye(rays, { xMm: x, yMm: 0, zMm: d }, { distanceMm: d, angleDeg: 0 }, source)

/** A Lambertian disc at the front: the same radiance from everywhere, Φ/(π A) (textbook). */
const lambert = (radiusMm: number) =>
  light({ draw: (u) => ({ at: onDiscAt(u, radiusMm), towards: inCone(u, Math.PI / 2) }) })
const lambertL = (radiusMm: number) => WATTS / (Math.PI * Math.PI * (radiusMm / 1000) ** 2)

/** An ideal lens with an even source at its focus: every point of it sends even radiance into the same cone, Φ/(A π sin²a). */
const beam = (radiusMm: number, halfRad: number, over: Partial<DrawnLight> = {}) =>
  light({ draw: (u) => ({ at: onDiscAt(u, radiusMm), towards: inCone(u, halfRad) }), ...over })
const beamL = (radiusMm: number, halfRad: number) =>
  WATTS / (Math.PI * (radiusMm / 1000) ** 2 * Math.PI * Math.sin(halfRad) ** 2)

/** An upper end is above the truth but for chance, and not far above. */
const expectUpper = (got: number, truth: number, over: number) => {
  expect(got).toBeGreaterThan(0.97 * truth)
  expect(got).toBeLessThan((1 + over) * truth)
}

describe('a Lambertian disc', () => {
  test('fills the field: its own radiance, weighted by B and R of 555 nm', () => {
    const wide = read(lambert(60), 300).fields.at(-1)!
    expectUpper(wide.thermalWm2sr, lambertL(60) * retinalThermalWeight(555), 0.25)
    expectWithin(wide.blueWm2sr / wide.thermalWm2sr, blueLightWeight(555), { rel: 1e-3, because: 'one wavelength' })
  })
  test('fills a part of the field: as much less', () => {
    const { fields, subtendsRad } = read(lambert(5), 400)
    expectUpper(fields.at(-1)!.thermalWm2sr, lambertL(5) * (10 / 400 / 0.1) ** 2, 0.2)
    expectWithin(subtendsRad, 10 / 400, { rel: 0.03, because: '98 of 100 rays lie within 99 % of the radius' })
  })
  test('irradiance: L · 2π(1 − cos θ), the eye turned to each ray (fluence; textbook)', () => {
    const { irradianceWm2, plusShare, thermalIrradianceWm2, illuminanceLx } = read(lambert(60), 100)
    const truth = lambertL(60) * 2 * Math.PI * (1 - 100 / Math.hypot(100, 60))
    expectUpper(irradianceWm2, truth, 0.2)
    expect(plusShare).toBeGreaterThan(0.005)
    expect(plusShare).toBeLessThan(0.12)
    expectWithin(thermalIrradianceWm2, irradianceWm2, { rel: 1e-6, because: 'R is 1 at 555 nm' })
    expectWithin(illuminanceLx, 683 * irradianceWm2, { rel: 1e-4, because: 'V is 1 at 555 nm' })
  })
  test('from 45° to the side its radiance is the same', () => {
    const wide = read(lambert(60), 300, 300).fields.at(-1)!
    expectUpper(wide.thermalWm2sr, lambertL(60), 0.35)
  })
  test('never more than the source’s own radiance; never darker in a narrower field; what decided is said', () => {
    const bound = { blueWm2sr: 0.004 * lambertL(60), thermalWm2sr: 0.7 * lambertL(60) }
    const rays = lambert(60)
    for (const d of [200, 700, 5000, 100_000]) {
      const { fields } = read(rays, d, 0, bound)
      for (const [k, f] of fields.entries()) {
        expect(f.thermalWm2sr).toBeLessThanOrEqual(bound.thermalWm2sr)
        expect(f.blueWm2sr).toBeLessThanOrEqual(bound.blueWm2sr)
        if (k > 0) expect(f.thermalWm2sr).toBeLessThanOrEqual(fields[k - 1]!.thermalWm2sr)
      }
    }
    expect(read(rays, 300).fields.at(-1)!.by).toBe('rays')
    expect(read(rays, 300, 0, bound).fields.at(-1)!.by).toBe('source')
    expect(read(rays, 100_000).fields.at(-1)!.by).toBe('arriving')
  })
  test('from behind, where no ray goes: what as few as none leave possible, through the widest pupil', () => {
    const dark = read(lambert(5), -300)
    expect(dark).toMatchObject({ plusShare: 0, subtendsRad: 0 })
    // None counted: 3.689 at the most (Garwood 1936, 97.5 %: −ln 0.025), within 60 mm.
    const one = (WATTS / 200_000) * 1e6
    expectWithin(dark.irradianceWm2, (1.01 * 3.689 * one) / (Math.PI * 59.8 ** 2), {
      rel: 0.01,
      because: 'eq. 9 of Gehrels',
    })
    for (const f of dark.means) expect(f.thermalWm2sr).toBe(0)
  })
  test('few rays, all of them past the pupil that keeps a narrow field sharp: a figure for every field', () => {
    // From a disc of 200 mm to a ring 40 mm about the eye.
    const rays = light({
      rays: 16,
      draw: (u) => {
        const at = onDiscAt(u, 200)
        const turn = 2 * Math.PI * u()
        return { at, towards: [40 * Math.cos(turn) - at[0], 40 * Math.sin(turn) - at[1], 200 - at[2]] }
      },
    })
    const { fields, means } = read(rays, 200)
    for (const f of [...fields, ...means])
      for (const radiance of [f.blueWm2sr, f.thermalWm2sr]) expect(radiance).toBeGreaterThanOrEqual(0)
  })
})

describe('a beam whose source is seen at infinity', () => {
  test('the lens is lit as far as the cone reaches: L (2a/γ)² in a wider field, L in a narrower one', () => {
    const { fields } = read(beam(100, 0.02), 300)
    expectUpper(fields.at(-1)!.thermalWm2sr, beamL(100, 0.02) * 0.4 ** 2, 0.2)
    expectUpper(fields[2]!.thermalWm2sr, beamL(100, 0.02), 0.35)
  })
  test('the pupil is widened without blurring: a narrow field is counted, though 7 mm let few rays through', () => {
    // 200,000 rays over 314 cm²: 245 through 7 mm, 24 of these in 11 mrad of a cone of 35.
    const field = read(beam(100, 0.0175), 5000).fields[1]!
    expect(field.by).toBe('rays')
    expectUpper(field.thermalWm2sr, beamL(100, 0.0175), 0.45)
  })
  test('through a pupil of nearly a field’s width the eye is focused on infinity, not on the lens', () => {
    // 60 mm at 2 m: the starts of these rays are 100 mrad apart, their directions 40.
    const field = read(beam(100, 0.02), 2000).fields[2]!
    expect(field.by).toBe('rays')
    expectUpper(field.thermalWm2sr, beamL(100, 0.02), 0.25)
  })
  test('too few rays for a narrow field: a bound from above, never a count', () => {
    const rays = beam(100, 0.02, { rays: 3000 })
    const [narrowest, narrow] = read(rays, 300).fields
    for (const f of [narrowest!, narrow!]) {
      expect(f.by).not.toBe('rays')
      expect(f.thermalWm2sr).toBeGreaterThan(beamL(100, 0.02))
    }
  })
  test('far away all is in one field: E/Ω', () => {
    const d = 400_000
    const { fields, irradianceWm2 } = read(beam(100, 0.02), d)
    const e = beamL(100, 0.02) * Math.PI * (0.1 / 400) ** 2
    expectUpper(irradianceWm2, e, 0.2)
    for (const f of fields) expectUpper(f.thermalWm2sr, e / ((Math.PI / 4) * f.fieldRad ** 2), 0.2)
  })
})

describe('an uneven light', () => {
  test('a thin bright beam in a wide weak one is not averaged away', () => {
    // 60 W in 8 mm, 40 W over 200 mm: through 7 mm 60 · (7/8)² W (a column of parallel rays).
    const rays = light({
      draw: (u) => {
        const thin = u() < 0.6
        return { at: onDiscAt(u, thin ? 4 : 100), towards: [0, 0, 1] }
      },
    })
    expectUpper(read(rays, 300).irradianceWm2, 60 / (Math.PI * 0.004 ** 2), 0.08)
  })
  test('nor with few rays, where a wider pupil would hold enough', () => {
    const rays = light({
      ...{ rays: 600 },
      draw: (u) => {
        const thin = u() < 0.6
        return { at: onDiscAt(u, thin ? 4 : 100), towards: [0, 0, 1] }
      },
    })
    // Some 275 rays through 7 mm: 6 % of chance twice over; the next pupil, 10.5 mm, holds 36 % less a square millimetre.
    const { irradianceWm2, plusShare } = read(rays, 300)
    expectUpper(irradianceWm2, 60 / (Math.PI * 0.004 ** 2), 0.3)
    expect(plusShare).toBeGreaterThan(0.05)
  })
  test('a spot beside the pupil does not count', () => {
    const rays = light({ draw: (u) => ({ at: onDiscAt(u, 4), towards: [0, 0, 1] }) })
    expectWithin(read(rays, 300, 200).irradianceWm2, (3.73 * 500) / (Math.PI * 59.8 ** 2), {
      rel: 0.01,
      because: 'none of 200,000 rays of 0.5 mW: 3.73 at the most',
    })
  })
})

describe('chance', () => {
  test('one ray alone: up to the limit of its count', () => {
    const rays = weighRays([drawnLight({ rays: 1, watts: 1, draw: () => ({ at: [0, 0, 0], towards: [0, 0, 1] }) })])
    const { plusShare } = read(rays, 300)
    // 5.572 at 97.5 % (Garwood 1936: ½ χ²(0.975; 4); standard table 11.143); Gehrels's eq. 9 lies 2 % over it.
    expect(1 + plusShare).toBeGreaterThan(5.572)
    expect(1 + plusShare).toBeLessThan(1.03 * 5.572)
  })
  test('batches that agree by chance: still the error of one ray', () => {
    const rays = weighRays([drawnLight({ rays: 32, watts: 1, draw: () => ({ at: [0, 0, 0], towards: [0, 0, 1] }) })])
    expectWithin(read(rays, 300).plusShare, 2.131 / 32, { rel: 1e-5, because: 'single precision' })
  })
  test('the upper end is above the truth in nearly all of many draws', () => {
    let above = 0
    for (let seed = 1; seed <= 40; seed++) {
      const rays = beam(30, 0.05, { rays: 4000, seed })
      if (read(rays, 300).irradianceWm2 > beamL(30, 0.05) * Math.PI * 0.05 ** 2) above++
    }
    // One-sided 97.5 %, and the strongest of two pupils: 40 draws hold 36 but for one chance in a hundred (binomial).
    expect(above).toBeGreaterThanOrEqual(36)
  })
})
