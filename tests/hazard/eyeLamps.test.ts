// Three lamps whose eye quantities can be worked out from spectrum and radiance alone. The numbers on the right-hand sides are
// worked out here, from geometry and from weights written out; nothing of src/hazard is used for them.
import { describe, expect, test } from 'vitest'
import { leavingLightOf } from '../../src/hazard/eyeRays.ts'
import { type EyeSheet, eyeInput, readEyes } from '../../src/hazard/eyeSheet.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter, traceHere } from '../kit/traceHere.ts'

const known = new Map<Lamp, EyeSheet>()

/** The sheet of a lamp whose emitter gives so many watts; read once. */
function readLamp(lamp: Lamp, emitterW: number): EyeSheet {
  const found = known.get(lamp) ?? readOnce(lamp, emitterW)
  known.set(lamp, found)
  return found
}

function readOnce(lamp: Lamp, emitterW: number): EyeSheet {
  const run = traceHere(lamp, { rays: amount(16_384, 32_768) })
  const work = readEyes([leavingLightOf(run)], eyeInput(lamp, [emitterW]))
  let step = work.next()
  while (!step.done) step = work.next()
  return step.value
}
const expectUpper = (got: number, truth: number, over: number) => {
  expect(got).toBeGreaterThan(0.98 * truth)
  expect(got).toBeLessThan((1 + over) * truth)
}
const disc = (mm: number) => ({ shape: 'disc' as const, diameterMm: mm })
const areaM2 = (mm: number) => (Math.PI / 4) * (mm / 1000) ** 2

describe('1: a bare Lambertian disc of 10 mm, 470 nm, 1000 lm', () => {
  // V(470) 0.09098 (CIE 1924), B 0.62, R 6.2 (rows 4.55, 4.56).
  const watts = 1000 / (683.002 * 0.09098)
  const radiance = watts / (Math.PI * areaM2(10))
  const lamp = oneEmitter({ source: disc(10), spectrum: { kind: 'mono', wavelengthNm: 470 } })
  test('radiance: its own in the fields that it fills, in 100 mrad as much as it covers', () => {
    const { source, nearest } = readLamp(lamp, watts)
    expectWithin(source.blueWm2sr, 0.62 * radiance, { rel: 1e-3, because: 'quadrature of the profile' })
    expectWithin(source.thermalWm2sr, 6.2 * radiance, { rel: 1e-3, because: 'quadrature of the profile' })
    // 10 mm at 200 mm is 50 mrad.
    for (const k of [0, 1, 2])
      expectWithin(nearest.fields[k]!.blueWm2sr, 0.62 * radiance, {
        rel: 0.2,
        because: 'upper end, source at the most',
      })
    expectUpper(nearest.fields[3]!.blueWm2sr, 0.62 * radiance * 0.25, 0.2)
  })
  test('times and group at 200 mm: 10⁶ J/m²sr over the 11 mrad that it fills; distance of no limit', () => {
    const { nearest, risk, distances } = readLamp(lamp, watts)
    // 4.04 e4 W/m²sr: 24.7 s, within the 100 s of 11 mrad; group 2: over 10⁴ in 100 s, under 4·10⁶.
    expectWithin(nearest.blueSeconds!, 1e6 / (0.62 * radiance), { rel: 0.02, because: 'the source’s radiance decides' })
    expect(risk.at200.group).toBe('RG2')
    // On the axis I = Φ/π; E_B = 100 W/m²sr over 100 mrad, 0.7854 W/m².
    const metres = Math.sqrt((0.62 * watts) / Math.PI / 0.7854)
    expect(distances[0]!.noLimitM).toBeGreaterThan(metres)
    expect(distances[0]!.noLimitM).toBeLessThan(1.3 * 1.45 * metres) // a step of 1.3, and some sixty rays at that distance
  })
})

describe('2: an own spectrum, equal watts at 450 and 550 nm, ultraviolet at 310 nm; a bare disc of 2 mm, 2000 lm', () => {
  const at = (nm: number) => (nm - 380) / 5
  const power = Array.from({ length: 81 }, (_, i) => (i === at(450) || i === at(550) ? 1 : 0))
  const ultraviolet = Array.from({ length: 16 }, (_, i) => (i === 2 ? 0.02 : 0))
  const lamp = oneEmitter({ source: disc(2), fluxLm: 2000, spectrum: { kind: 'table', power, ultraviolet } })
  // Lines of triangular shape on the 5 nm grid count as single ordinates: V 0.038 and 0.9949501; B 0.94 and 10^(−2) at 550;
  // R 9.4 and 1; S(310) 0.015 (ICNIRP 2004; memory).
  const watts = 2000 / (683.002 * ((0.038 + 0.9949501) / 2))
  const blue = (0.94 + 0.01) / 2
  const thermal = (9.4 + 1) / 2
  const radiance = watts / (Math.PI * areaM2(2))
  test('source, irradiance, and radiance over 11 and 100 mrad at 200 mm', () => {
    const { source, nearest } = readLamp(lamp, watts)
    expectWithin(source.blueWm2sr, blue * radiance, { rel: 2e-3, because: 'quadrature' })
    expectWithin(source.thermalWm2sr, thermal * radiance, { rel: 2e-3, because: 'quadrature' })
    const e = watts / Math.PI / 0.2 ** 2
    expectUpper(nearest.irradianceWm2, e, 0.2)
    // 10 mrad wide: all of it is in each of the wider fields.
    expectUpper(nearest.fields[3]!.thermalWm2sr, (thermal * e) / ((Math.PI / 4) * 0.01), 0.25)
    expectUpper(nearest.fields[1]!.blueWm2sr, (blue * e) / ((Math.PI / 4) * 0.011 ** 2), 0.25)
  })
  test('actinic ultraviolet: S(310) times its share; small source by irradiance', () => {
    const { risk, nearest } = readLamp(lamp, watts)
    const rows = new Map(risk.at200.rows.map((r) => [r.hazard, r]))
    const actinic = rows.get('actinicUltraviolet')!
    expectWithin(actinic.emission![0] / nearest.irradianceWm2, (0.02 * 0.015) / 2, { rel: 1e-6, because: 'rounding' })
    // 49 W/m² · 1.5e-4 = 7.4 mW/m²: over 3, under 30.
    expect(actinic.group).toBe('RG2')
    expectUpper(rows.get('blueSmallSource')!.emission![0], (blue * watts) / Math.PI / 0.04, 0.25)
    expect(rows.has('blueLight')).toBe(false)
  })
})

describe('3: a searchlight: 2 mm, 555 nm, 10,000 lm behind an ideal lens of 60 mm at its focal length of 100 mm', () => {
  // Photometry alone: 683.002 lm/W; R 1, B 10^(−2.1).
  const watts = 10_000 / 683.002
  const radiance = watts / (Math.PI * areaM2(2))
  const shining = areaM2(60) / (1 + 0.3 ** 2)
  const lamp = oneEmitter({
    source: disc(2),
    fluxLm: 10_000,
    lens: { kind: 'ideal', zMm: 100, focalMm: 100, diameterMm: 60 },
  })
  test('the lens shows the source 20 mrad wide, never brighter; far away the whole lens shines', () => {
    const { nearest, readings } = readLamp(lamp, watts)
    expectUpper(nearest.fields[1]!.thermalWm2sr, radiance, 0.02)
    expect(nearest.fields[3]!.thermalWm2sr).toBeGreaterThan(0.93 * radiance * 0.2 ** 2)
    expect(nearest.fields[3]!.thermalWm2sr).toBeLessThan(1.35 * radiance * 0.2 ** 2)
    // E = L A/d² of the lens, less cos⁴ towards its rim: an ideal lens makes slopes, ∫ cos⁴ dA = A/(1 + (R/f)²).
    const far = readings.find((r) => r.distanceMm > 40_000)!
    expectUpper(far.irradianceWm2, (radiance * shining) / (far.distanceMm / 1000) ** 2, 0.35)
  })
  test('retinal heat at 200 mm: 50,000/(α t^¼) of its 20 mrad', () => {
    const { nearest, risk } = readLamp(lamp, watts)
    // 1.48e6 W/m²sr · 0.02: under 28,000 at 10 s? 29,660: over. 50,000/29,660 to the fourth: 8.1 s.
    const seconds = (50_000 / (radiance * 0.02)) ** 4
    expect(nearest.thermalSeconds).toBeLessThan(seconds * 1.15) // the lens is darker towards its rim
    expect(nearest.thermalSeconds).toBeGreaterThan(seconds * 0.5)
    expect(risk.at200.group).toBe('RG2')
  })
  test('glare: 5 µW/cm² at 555 nm from I = L A', () => {
    const { interference } = readLamp(lamp, watts)
    const metres = Math.sqrt((radiance * shining) / 0.05)
    expect(interference.levels[1]!.metres).toBeGreaterThan(metres)
    expectWithin(interference.levels[1]!.metres, metres, { rel: 0.25, because: 'upper end' })
  })
})
