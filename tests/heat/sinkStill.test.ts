// Sinks in still air, put together by hand from the correlations: which length, area and law counts on which side up.
import { describe, expect, test } from 'vitest'
import { rayleigh } from '../../src/heat/air.ts'
import { channel, finsUp, hotSideDown, hotSideUp, levelCylinder, verticalPlate } from '../../src/heat/convection.ts'
import { finEfficiency, overhangWK, pinEfficiency } from '../../src/heat/fins.ts'
import { makeSink } from '../../src/heat/sink.ts'
import { expectWithin } from '../kit/expect.ts'
import { AMBIENT_C, coolingOf, expectSink, filmAir, KELVIN, radiatedWK, square } from '../kit/handSink.ts'

const ra = (lengthM: number) => rayleigh(filmAir(), lengthM, KELVIN)
const film = (nusselt: number, lengthM: number) => (nusselt * filmAir().conductivityWmK) / lengthM
const upright = (lengthM: number) => film(verticalPlate(ra(lengthM), filmAir().prandtl), lengthM)
/** A plate of 200 mm, level: its area over its rim is 0.04/0.8 = 0.05 m. */
const facingUp = () => film(hotSideUp(ra(0.05)), 0.05)
const facingDown = () => film(hotSideDown(ra(0.05)), 0.05)

describe('a bare back of 200 × 200 mm', () => {
  const bare = (filmWm2K: number) => ({ base: 0.04 * filmWm2K + radiatedWK(0.04, 0.04), fin: 0, eta: 0 })
  test('beam level: an upright plate 0.2 m high', () => {
    expectSink(coolingOf({ kind: 'none' }), bare(upright(0.2)))
  })
  test('beam down: its back faces up; beam up: it faces down', () => {
    expectSink(coolingOf({ kind: 'none' }, { aim: 'down' }), bare(facingUp()))
    expectSink(coolingOf({ kind: 'none' }, { aim: 'up' }), bare(facingDown()))
  })
  test('nothing is stored, and nothing stands between plate and air', () => {
    const sink = makeSink(coolingOf({ kind: 'none' }), square, AMBIENT_C)
    expect([sink.finKg, sink.finHeatJK, sink.leftOut, sink.speedMS]).toEqual([0, 0, 0, null])
    expect(sink.at(80)).toMatchObject({ link: 0, fin: 0 })
  })
  test('round, 200 mm: π/4 · 0.2 m high on average; level, its area over its rim is 0.05 m', () => {
    const face = { shape: 'round' as const, sizeMm: 200 }
    const area = 0.01 * Math.PI
    const round = (filmWm2K: number) => ({ base: area * filmWm2K + radiatedWK(area, area), fin: 0, eta: 0 })
    expectSink(coolingOf({ kind: 'none' }), round(upright(0.05 * Math.PI)), face)
    expectSink(coolingOf({ kind: 'none' }, { aim: 'down' }), round(facingUp()), face)
  })
})

describe('fins: 10 of 200 × 40 mm, 2 mm thick, 12 mm apart', () => {
  const fins = { kind: 'fins' as const, count: 10, heightMm: 40, thicknessMm: 2, spacingMm: 12 }
  // Both sides and the tip: 2 · 2 m · (40 + 1 mm); roots 2 m · 2 mm; envelope 0.04 + 0.04 · 0.8 m².
  const [area, roots, envelope] = [0.164, 0.004, 0.072]
  const byHand = (plate: number, between: number) => {
    const fin = area * between + radiatedWK(envelope, 0.04 - roots + area)
    return { base: Math.min(plate, between) * (0.04 - roots), fin, eta: finEfficiency(fin / area, 160, 0.002, 0.04) }
  }
  const onPlate = () => film(finsUp(ra(0.012)), 0.012)
  test('beam level: channels 0.2 m high', () => {
    const channels = (spacingM: number) => film(channel((ra(spacingM) * spacingM) / 0.2), spacingM)
    // Between fins 9 mm apart the back has their film, which is the lower; 12 mm apart it keeps a plain plate’s.
    expect(channels(0.009)).toBeLessThan(upright(0.2))
    expect(channels(0.012)).toBeGreaterThan(upright(0.2))
    expectSink(coolingOf({ ...fins, spacingMm: 9 }), byHand(upright(0.2), channels(0.009)))
    expectSink(coolingOf(fins), byHand(upright(0.2), channels(0.012)))
  })
  test('beam down: Jones and Smith between them; beam up: half of it', () => {
    expectSink(coolingOf(fins, { aim: 'down' }), byHand(facingUp(), onPlate()))
    expectSink(coolingOf(fins, { aim: 'up' }), byHand(facingDown(), onPlate() / 2))
  })
  test('far apart the back keeps a plain plate’s film: 2 fins, 95 mm apart, beam up and level', () => {
    const two = { ...fins, count: 2, spacingMm: 95 }
    const [twoArea, twoRoots] = [0.0328, 0.0008]
    // Surface 0.072 m², as much as the envelope.
    const far = (plate: number, between: number) => {
      const fin = twoArea * between + radiatedWK(envelope, Math.max(envelope, 0.04 - twoRoots + twoArea))
      const eta = finEfficiency(fin / twoArea, 160, 0.002, 0.04)
      return { base: plate * (0.04 - twoRoots), fin, eta }
    }
    const level = film(channel((ra(0.095) * 0.095) / 0.2), 0.095)
    const up = film(finsUp(ra(0.095)), 0.095) / 2
    for (const [aim, plate, between] of [
      ['up', facingDown(), up],
      ['level', upright(0.2), level],
    ] as const)
      expectSink(coolingOf(two, { aim }), far(Math.min(plate, between), between))
  })
  test('a lone low fin: the envelope, not the smaller surface inside it, radiates', () => {
    const one = { ...fins, count: 1, lengthMm: 50 }
    // 2 · 50 mm · 41 mm of fin on 0.04 m² less 1 cm² are 0.044 m², under the envelope’s 0.072 m².
    const [ownArea, ownRoots] = [0.0041, 0.0001]
    const between = film(channel((ra(0.012) * 0.012) / 0.05), 0.012)
    const plate = upright(0.05)
    const fin = ownArea * between + radiatedWK(envelope, envelope)
    const eta = finEfficiency(fin / ownArea, 160, 0.002, 0.04)
    expectSink(coolingOf(one), { base: Math.min(plate, between) * (0.04 - ownRoots), fin, eta })
  })
  test('mass and heat: 2 m · 2 mm · 40 mm = 160 cm³ at 2.7 g and 0.896 J/gK', () => {
    const sink = makeSink(coolingOf(fins), square, AMBIENT_C)
    expectWithin(sink.finKg, 0.432, { rel: 1e-12, because: 'rounding' })
    expectWithin(sink.finHeatJK, 0.432 * 896, { rel: 1e-12, because: 'rounding' })
  })
  test('round face of 100 mm, fins 30 mm apart: chords of 80, 100 and 80 mm, others find no room', () => {
    const round = { shape: 'round' as const, sizeMm: 100 }
    const sink = makeSink(coolingOf({ ...fins, count: 5, spacingMm: 28 }), round, AMBIENT_C)
    expect(sink.leftOut).toBe(2)
    expectWithin(sink.finKg, 0.26 * 0.002 * 0.04 * 2700, { rel: 1e-12, because: 'rounding' })
    const three = makeSink(coolingOf({ ...fins, count: 3, spacingMm: 28 }), round, AMBIENT_C)
    expect(three.totalWK(80)).toBe(sink.totalWK(80))
  })
})

describe('fins of 300 mm on 200 mm: 50 mm stand out at each end', () => {
  test('over the plate as fins do, beyond it by their own conduction', () => {
    const fins = { kind: 'fins' as const, count: 10, heightMm: 40, thicknessMm: 2, spacingMm: 12, lengthMm: 300 }
    const between = film(channel((ra(0.012) * 0.012) / 0.3), 0.012)
    // 2 · 3 m · 41 mm, a third of it beyond; only what is on the plate covers it.
    const [area, beyondArea, roots] = [0.246, 0.082, 0.004]
    const fin = area * between + radiatedWK(0.072, 0.04 - roots + area)
    const h = fin / area
    const beyond = 20 * overhangWK(h, 160, 0.002, 0.04, 0.05)
    const plain = finEfficiency(h, 160, 0.002, 0.04)
    expect(beyond / h).toBeLessThan(plain * beyondArea)
    const eta = (plain * (area - beyondArea) + beyond / h) / area
    expectSink(coolingOf(fins), { base: Math.min(upright(0.3), between) * (0.04 - roots), fin, eta })
  })
  test('what barely stands out never counts for more than a fin over the plate', () => {
    const fins = { kind: 'fins' as const, count: 10, heightMm: 40, thicknessMm: 2, spacingMm: 12 }
    const { base, link, fin } = makeSink(coolingOf({ ...fins, lengthMm: 200.02 }), square, AMBIENT_C).at(80)
    const plain = makeSink(coolingOf({ ...fins, lengthMm: 200 }), square, AMBIENT_C).at(80)
    expectWithin(fin, plain.fin, { rel: 2e-4, because: 'a ten-thousandth more area' })
    expectWithin(base, plain.base, { rel: 2e-4, because: 'a ten-thousandth more area' })
    expectWithin(link, plain.link, { rel: 2e-4, because: 'a ten-thousandth more area' })
  })
})

describe('pins: 300 of 40 mm, 4 mm thick, 5 mm apart', () => {
  const pins = { kind: 'pins' as const, count: 300, heightMm: 40, diameterMm: 4, spacingMm: 5 }
  // 300 π · 4 mm · (40 + 1 mm); roots 300 π · 4 mm².
  const [area, roots] = [0.0492 * Math.PI, 0.0012 * Math.PI]
  const byHand = (plate: number, alone: number, between: number) => {
    const own = Math.min(alone, between)
    const fin = area * own + radiatedWK(0.072, 0.04 - roots + area)
    return { base: Math.min(plate, own) * (0.04 - roots), fin, eta: pinEfficiency(fin / area, 160, 0.004, 0.04) }
  }
  const cylinder = () => film(levelCylinder(ra(0.004), filmAir().prandtl), 0.004)
  const channelOf = (spacingM: number) => film(channel((ra(spacingM) * spacingM) / 0.2), spacingM)
  test('beam level: each a level cylinder, but no better than channels as wide as their gaps', () => {
    expect(channelOf(0.005)).toBeLessThan(cylinder())
    expectSink(coolingOf(pins), byHand(upright(0.2), cylinder(), channelOf(0.005)))
  })
  test('far apart the back keeps a plain plate’s film: 20 mm, 60 pins', () => {
    const wide = { ...pins, count: 60, spacingMm: 20 }
    expect(channelOf(0.02)).toBeGreaterThan(upright(0.2))
    const [own, ownRoots] = [area / 5, roots / 5]
    const fin = own * channelOf(0.02) + radiatedWK(0.072, 0.072)
    const eta = pinEfficiency(fin / own, 160, 0.004, 0.04)
    expectSink(coolingOf(wide), { base: upright(0.2) * (0.04 - ownRoots), fin, eta })
  })
  test('thick ones on a small face: the cylinders’ own film is the lower', () => {
    // 2 of 20 mm, 15 mm apart, on 50 × 50 mm: area 2 π · 20 · 45 mm², roots 200 π mm², envelope 25 + 40 · 2 cm².
    const two = { kind: 'pins' as const, count: 2, heightMm: 40, diameterMm: 20, spacingMm: 15 }
    const own = film(levelCylinder(ra(0.02), filmAir().prandtl), 0.02)
    expect(own).toBeLessThan(film(channel((ra(0.015) * 0.015) / 0.05), 0.015))
    const [twoArea, twoRoots] = [0.0018 * Math.PI, 0.0002 * Math.PI]
    const fin = twoArea * own + radiatedWK(0.0105, 0.0105)
    const eta = pinEfficiency(fin / twoArea, 160, 0.02, 0.04)
    expectSink(coolingOf(two), { base: upright(0.05) * (0.0025 - twoRoots), fin, eta }, { shape: 'square', sizeMm: 50 })
  })
  test('tall ones far apart, beam down: an upright plate of 0.2 m gives off less than the fins’ law', () => {
    // 20 of 10 mm, 30 mm apart: area 20 π · 10 · 202.5 mm², roots 500 π mm², envelope 0.04 + 0.2 · 0.8 m².
    const tall = { kind: 'pins' as const, count: 20, heightMm: 200, diameterMm: 10, spacingMm: 30 }
    expect(upright(0.2)).toBeLessThan(film(finsUp(ra(0.03)), 0.03))
    const [tallArea, tallRoots] = [0.0405 * Math.PI, 0.0005 * Math.PI]
    const fin = tallArea * upright(0.2) + radiatedWK(0.2, 0.2)
    const eta = pinEfficiency(fin / tallArea, 160, 0.01, 0.2)
    const base = Math.min(facingUp(), upright(0.2)) * (0.04 - tallRoots)
    expectSink(coolingOf(tall, { aim: 'down' }), { base, fin, eta })
  })
  test.each(['down', 'up'] as const)(
    'beam %s: each an upright plate of its own height, but no better than fins',
    (aim) => {
      for (const spacingMm of [5, 7]) {
        const gap = spacingMm / 1000
        const between = film(finsUp(ra(gap)), gap) * (aim === 'up' ? 0.5 : 1)
        const plate = aim === 'up' ? facingDown() : facingUp()
        expectSink(coolingOf({ ...pins, spacingMm }, { aim }), byHand(plate, upright(0.04), between))
      }
    },
  )
  test('one for each square of pitch: (200/9)² = 493.8 find room', () => {
    const sink = makeSink(coolingOf({ ...pins, count: 500 }), square, AMBIENT_C)
    expect(sink.leftOut).toBe(7)
    expectWithin(sink.finKg, 493 * Math.PI * 4e-6 * 0.04 * 2700, { rel: 1e-12, because: 'rounding' })
    expect(makeSink(coolingOf(pins), square, AMBIENT_C).leftOut).toBe(0)
  })
})

describe('no room', () => {
  test('fins that all stand beside the face, pins wider than it: a bare back, all left out', () => {
    const bare = makeSink(coolingOf({ kind: 'none' }), square, AMBIENT_C)
    const fins = { kind: 'fins' as const, count: 2, heightMm: 40, thicknessMm: 2, spacingMm: 230 }
    const pins = { kind: 'pins' as const, count: 2, heightMm: 40, diameterMm: 20, spacingMm: 190 }
    for (const sink of [fins, pins]) {
      const s = makeSink(coolingOf(sink), square, AMBIENT_C)
      expect([s.leftOut, s.finKg, s.finHeatJK]).toEqual([2, 0, 0])
      expect(s.at(80)).toEqual(bare.at(80))
    }
  })
  test('fins without gaps leave nothing of the back bare, and not less than nothing', () => {
    const packed = { kind: 'fins' as const, count: 3, heightMm: 40, thicknessMm: 100, spacingMm: 0.0001 }
    expect(makeSink(coolingOf(packed), { ...square, sizeMm: 200.001 }, AMBIENT_C).at(80).base).toBe(0)
  })
})
