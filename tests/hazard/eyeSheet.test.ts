import { describe, expect, test } from 'vitest'
import type { LeavingLight } from '../../src/hazard/eyeRays.ts'
import { type EyeInput, type EyeSheet, readEyes } from '../../src/hazard/eyeSheet.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnLight, inCone, onDiscAt } from '../kit/leavingLight.ts'

const RAD = Math.PI / 180
const INPUT: EyeInput = {
  ...{ frontZMm: 0, source: { blueWm2sr: 1e9, thermalWm2sr: 1e9 } },
  // 450 nm: rows 4.55, 4.56; V of CIE 1924.
  perWatt: { blue: 0.94, thermal: 9.4, lumens: 683 * 0.038 },
  ...{ ultraviolet: { fromNm: 380, actinicPerW: 0, nearPerW: 0 }, flicker: [] },
}

function read(lights: LeavingLight[], input: Partial<EyeInput> = {}): EyeSheet {
  const work = readEyes(lights, { ...INPUT, ...input })
  let step = work.next()
  while (!step.done) step = work.next()
  return step.value
}

/** 60 mm wide, half angle 20 mrad, 450 nm: B is 0.94 (row 4.56). */
const beam = (offDeg: number, { at = [0, 0] as readonly [number, number], watts = 10, rays = 4000 } = {}) =>
  drawnLight({
    ...{ rays, watts, nm: 450 },
    draw: (u) => ({ at: onDiscAt(u, 30, ...at), towards: inCone(u, 0.02, offDeg * RAD) }),
  })
/** E = Φ/(π (a d)²) far away; a small source has no limit beyond E_B = 0.785 W/m² (100 W/m²sr over 100 mrad). */
const farM = (watts: number) => Math.sqrt((0.94 * watts) / (Math.PI * 0.02 ** 2 * 0.7854))

describe('wherever the beam points', () => {
  const truth = farM(10)
  const within = (metres: number) => {
    expect(metres).toBeGreaterThan(truth)
    // A step of 1.3 and the upper end.
    expect(metres).toBeLessThan(1.3 * 1.2 * truth)
  }
  test.each([
    ['along the axis', 0, [0, 0]],
    ['13° aside from a board at r = 250 mm', 13, [250, 0]],
    ...amount([], [['60° aside', 60, [0, 0]] as const]),
    ['backwards', 170, [0, -100]],
  ] as const)('%s: no limit is reached beyond %i… the same distance', (_, offDeg, at) => {
    const { distances, readings } = read([beam(offDeg, { at })])
    within(distances[0]!.noLimitM)
    const far = readings.find((r) => r.distanceMm > 30_000)!
    expectWithin(far.angleDeg, offDeg, { abs: 1.3, because: 'somewhere in a beam of 1.15° half angle' })
    // Rows aside tell it only as far off as the beam is; their steps are wider.
    for (const row of distances.slice(1)) expect(row.noLimitM).toBeLessThanOrEqual(distances[0].noLimitM)
    for (const row of distances.slice(1))
      if (row.angleDeg > offDeg + 2) expect(row.noLimitM, String(row.angleDeg)).toBeLessThan(5)
      else if (row.angleDeg < offDeg - 2) within(row.noLimitM)
  })
  test('a ring of 18 boards whose beams cross nowhere: as far as one of them', () => {
    const ring = Array.from({ length: 18 }, (_, k) => {
      const turn = (k * Math.PI) / 9
      return drawnLight({
        ...{ rays: 1000, watts: 10, nm: 450, seed: k + 1 },
        draw: (u) => {
          const [x, y, z] = inCone(u, 0.02, 20 * RAD)
          const [c, s] = [Math.cos(turn), Math.sin(turn)]
          return { at: onDiscAt(u, 30, 250 * c, 250 * s), towards: [x * c - y * s, x * s + y * c, z] }
        },
      })
    })
    within(read(ring).distances[0]!.noLimitM)
  })
  test('light that leaves elsewhere counts like the rest', () => {
    const { distances } = read([beam(0, { watts: 0.1 }), beam(95, { at: [300, 0] })])
    within(distances[0]!.noLimitM)
    expect(distances.map((d) => d.angleDeg)).toEqual([0, 10, 20, 30, 45, 70])
  })
  test('wider angles only where light goes', () => {
    const angles = (off: number) => read([beam(off, { rays: 500 })]).distances.map((d) => d.angleDeg)
    expect(angles(0)).toEqual([0, 10, 20, 30, 45])
    expect(angles(179)).toEqual([0, 10, 20, 30, 45, 70, 110, 150])
  })
})

describe('the sheet', () => {
  const sheet = () => read([beam(0)])
  test('nearest at 200 mm, near to far, no farther aside than anywhere; risk at 200 mm and at 500 lx', () => {
    const { nearest, readings, distances, risk, interference, source, glasses } = sheet()
    expect(nearest).toBe(readings[0])
    expect(nearest.distanceMm).toBe(200)
    const straight = readings.filter((_, k) => k < 29)
    for (let i = 1; i < straight.length; i++)
      expectWithin(straight[i]!.distanceMm / straight[i - 1]!.distanceMm, 1.3, { abs: 1e-9, because: 'rounding' })
    expect(straight.at(-1)!.distanceMm).toBeLessThan(400_000)
    for (const d of distances) {
      expect(d.noLimitM).toBeLessThanOrEqual(distances[0]!.noLimitM)
      for (const key of ['blink', 'tenSeconds', 'hundredSeconds'] as const)
        expect(d.metres[key]).toBeLessThanOrEqual(distances[0]!.metres[key])
    }
    expect(risk.at200.distanceMm).toBe(200)
    // I = Φ · 683 V(450)/(π a²): 5 % of chance, the largest of 29 distances, and the upper end above that.
    const cd = (10 * 683 * 0.038) / (Math.PI * 0.02 ** 2)
    expect(interference.peakCd).toBeGreaterThan(cd)
    expect(interference.peakCd).toBeLessThan(1.35 * cd)
    expectWithin(risk.at500lx.distanceMm, 1000 * Math.sqrt(interference.peakCd / 500), {
      rel: 1e-9,
      because: 'rounding',
    })
    expect(source).toBe(INPUT.source)
    // Field glasses show a small source 49 times as strong: seven times the distance.
    expectWithin(glasses.noLimitM / distances[0]!.noLimitM, 7, { rel: 0.35, because: 'a step of 1.3' })
  })
  test('never brighter than the emitters', () => {
    const source = { blueWm2sr: 50, thermalWm2sr: 500 }
    const { readings } = read([beam(0, { rays: 1000 })], { source })
    for (const { fields } of readings)
      for (const f of fields) {
        expect(f.blueWm2sr).toBeLessThanOrEqual(50)
        expect(f.thermalWm2sr).toBeLessThanOrEqual(500)
      }
  })
})
