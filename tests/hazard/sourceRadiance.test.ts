import { describe, expect, test } from 'vitest'
import { greatestPerWatt, peakPerWatt, sourceRadiance } from '../../src/hazard/sourceRadiance.ts'
import type { Profile } from '../../src/lamp/schema.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const quadrature = { rel: 2e-5, because: 'quadrature of 900 steps' }

describe('greatest radiance of a watt from a square metre', () => {
  test('Lambertian: 1/π; cosᵐ: (m + 1)/2π', () => {
    expectWithin(peakPerWatt({ kind: 'cosine', fwhmDeg: 120 }), 1 / Math.PI, quadrature)
    // cos³: half at acos(2^(−1/3)) = 37.467°.
    expectWithin(peakPerWatt({ kind: 'cosine', fwhmDeg: 2 * 37.467 }), 4 / (2 * Math.PI), quadrature)
  })
  test('a narrow Gaussian: 4 ln 2/(π FWHM²)', () => {
    expectWithin(peakPerWatt({ kind: 'gaussian', fwhmDeg: 5 }), (4 * Math.LN2) / (Math.PI * (5 * RAD) ** 2), {
      rel: 2e-3,
      because: 'small angles',
    })
  })
  test('even over the hemisphere: 1/2π over the cosine, to 80°', () => {
    const flat: Profile = { kind: 'table', thetaDeg: [0, 90], intensity: [1, 1] }
    expectWithin(peakPerWatt(flat), 1 / (2 * Math.PI) / Math.cos(80 * RAD), quadrature)
  })
  test('a table that ends above zero before 90° ends there: even to 30° is 1/(2π (1 − cos 30°)), at the edge over its cosine', () => {
    const cut: Profile = { kind: 'table', thetaDeg: [0, 30], intensity: [1, 1] }
    expectWithin(peakPerWatt(cut), 1 / (2 * Math.PI * (1 - Math.cos(30 * RAD))) / Math.cos(30 * RAD), quadrature)
    const narrow: Profile = { kind: 'table', thetaDeg: [0, 0.2], intensity: [1, 1] }
    expectWithin(peakPerWatt(narrow), 1 / (2 * Math.PI * (1 - Math.cos(0.2 * RAD))), quadrature)
  })
  test('flat before the first angle; a table of the angle 0 alone is flat everywhere; dark is 0', () => {
    const late: Profile = { kind: 'table', thetaDeg: [10, 20], intensity: [1, 1] }
    expectWithin(peakPerWatt(late), 1 / (2 * Math.PI * (1 - Math.cos(20 * RAD))) / Math.cos(20 * RAD), quadrature)
    const single: Profile = { kind: 'table', thetaDeg: [0], intensity: [1] }
    expectWithin(peakPerWatt(single), 1 / (2 * Math.PI) / Math.cos(80 * RAD), quadrature)
    expect(peakPerWatt({ kind: 'table', thetaDeg: [0, 90], intensity: [0, 0] })).toBe(0)
  })
  test('uneven rows of a map count by their widths', () => {
    // 1 at 0°, 0 at 10° and 20°: half of the gaps on either side is (340 + 10)/2 = 175° of 360°.
    const map = (phiDeg: number[], values: number[]): Profile => ({
      ...{ kind: 'map', thetaDeg: [0, 30], phiDeg, intensity: values.map((v) => [v, v]) },
    })
    const even = 1 / (2 * Math.PI * (1 - Math.cos(30 * RAD))) / Math.cos(30 * RAD)
    expectWithin(peakPerWatt(map([0, 10, 20], [1, 0, 0])), even / (175 / 360), quadrature)
    expectWithin(peakPerWatt(map([0, 10, 20], [0, 1, 0])), even / (10 / 360), quadrature)
    expectWithin(peakPerWatt(map([0, 90, 180, 270], [1, 1, 1, 1])), even, quadrature)
    expectWithin(peakPerWatt(map([40], [1])), even, quadrature)
  })
})

describe('of a lamp', () => {
  test('the brightest emitter decides, in proportion to its watts', () => {
    const lamp = stileLamp()
    const one = sourceRadiance(lamp, new Float64Array(7).fill(1))
    const uneven = sourceRadiance(lamp, Float64Array.of(1, 1, 1, 3, 1, 1, 1))
    expectWithin(uneven.blueWm2sr, 3 * one.blueWm2sr, { rel: 1e-12, because: 'rounding' })
    expectWithin(uneven.thermalWm2sr, 3 * one.thermalWm2sr, { rel: 1e-12, because: 'rounding' })
  })
  test('a Lambertian rectangle of 2 by 3 mm, 2 W at 555 nm: 2/(π 6 mm²), R 1', () => {
    const lamp = oneEmitter({ source: { shape: 'rectangle', widthMm: 2, heightMm: 3 } })
    expectWithin(sourceRadiance(lamp, [2]).thermalWm2sr, 2 / (Math.PI * 6e-6), quadrature)
    const disc = oneEmitter({ source: { shape: 'disc', diameterMm: 2 } })
    expectWithin(sourceRadiance(disc, [2]).thermalWm2sr, 2 / (Math.PI * Math.PI * 1e-6), quadrature)
  })
  test('blue and retinal weight each: 450 nm has B 0.94, R 9.4 (table 4.2, second-hand)', () => {
    const lamp = oneEmitter({ source: { shape: 'disc', diameterMm: 3 }, spectrum: { kind: 'mono', wavelengthNm: 450 } })
    const l = 4 / (Math.PI * (Math.PI / 4) * 9e-6)
    const { blueWm2sr, thermalWm2sr } = sourceRadiance(lamp, [4])
    expectWithin(blueWm2sr, 0.94 * l, quadrature)
    expectWithin(thermalWm2sr, 9.4 * l, quadrature)
    expect(sourceRadiance({ ...lamp, boards: [] }, [])).toEqual({ blueWm2sr: 0, thermalWm2sr: 0 })
  })
})

test('what a watt weighs of the emitter whose light weighs most: 450 nm beside 555 nm', () => {
  const blue = oneEmitter({ spectrum: { kind: 'mono', wavelengthNm: 450 } })
  const green = oneEmitter({ spectrum: { kind: 'mono', wavelengthNm: 555 } })
  const digits = { rel: 2e-3, because: 'three digits' }
  // B and R: rows 4.55, 4.56; V(450) 0.038, V(555) 1 (CIE 1924).
  const lone = greatestPerWatt(blue)
  expectWithin(lone.blue, 0.94, digits)
  expectWithin(lone.thermal, 9.4, digits)
  expectWithin(lone.lumens, 683.002 * 0.038, digits)
  const [type, board, place] = [green.emitterTypes[0], green.boardTypes[0], green.boards[0]]
  const both = {
    ...blue,
    emitterTypes: [...blue.emitterTypes, { ...type, id: 'green' }],
    boardTypes: [...blue.boardTypes, { ...board, id: 'g', emitter: 'green' }],
    boards: [...blue.boards, { ...place, id: 'B2', type: 'g', xMm: 20 }],
  } as typeof blue
  const most = greatestPerWatt(both)
  expectWithin(most.blue, 0.94, digits)
  expectWithin(most.lumens, 683.002, digits)
})
