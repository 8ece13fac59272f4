// A covered sink by hand: what passes the layer leaves the cover (Stefan and Boltzmann; Newton; two grey plates; ISO 6946: memory).
import { describe, expect, test } from 'vitest'
import { coverC, coverSink } from '../../src/heat/covered.ts'
import { makeSink } from '../../src/heat/sink.ts'
import { expectWithin } from '../kit/expect.ts'
import { AMBIENT_C, coolingOf, square } from '../kit/handSink.ts'

const SIGMA = 5.670374419e-8
const fourth = (c: number) => (c + 273.15) ** 4
const radiated = (a: number, b: number) => SIGMA * (fourth(a) - fourth(b))
const lost = (c: number) => 0.9 * radiated(c, 20) + 5 * (c - 20)
const through = (sink: number, cover: number, emissivity: number) =>
  radiated(sink, cover) / (1 / emissivity + 1 / 0.9 - 1) + 1.25 * (sink - cover)
const BALANCE = { abs: 0.01, because: 'W/m², closed to 1e-6 K' }

describe('the cover', () => {
  test.each([
    [60, 0.9],
    [120, 0.9],
    [120, 0.1],
    [300, 0.9],
  ])('about a sink of %i °C, ε %f: what comes through goes out', (sinkC, emissivity) => {
    const c = coverC(sinkC, emissivity, 20)
    expect(c).toBeGreaterThan(20)
    expectWithin(lost(c), through(sinkC, c, emissivity), BALANCE)
  })
  test('a sink no warmer than the air: as the air', () => {
    expect([coverC(20, 0.9, 20), coverC(10, 0.9, 20)]).toEqual([20, 20])
  })
})

describe('the sink', () => {
  const fins = coolingOf({ kind: 'fins', count: 10, heightMm: 40, thicknessMm: 2, spacingMm: 15 })
  test('painted fins of 40 mm on 200 by 200 mm: an envelope of 0.04 + 0.04 · 0.8 m²', () => {
    const open = makeSink(fins, square, AMBIENT_C)
    const covered = coverSink(open, AMBIENT_C)!
    expectWithin(open.envelopeM2!, 0.072, { abs: 1e-12, because: 'by hand' })
    const c = coverC(120, 0.9, 20)
    const wattPerK = (0.072 * through(120, c, 0.9)) / 100
    expectWithin(covered.at(120).fin, wattPerK, { rel: 1e-5, because: 'a row of the table' })
    expect(covered.at(120)).toMatchObject({ base: 0, link: open.at(120).link })
    const { link } = open.at(120)
    expectWithin(covered.totalWK(120), (link * wattPerK) / (link + wattPerK), { rel: 1e-5, because: 'in series' })
    // Open it loses several times as much: that is what a cover takes away.
    expect(open.totalWK(120) / covered.totalWK(120)).toBeGreaterThan(3)
    expect([covered.finKg, covered.finHeatJK, covered.speedMS]).toEqual([open.finKg, open.finHeatJK, null])
  })
  test('between two rows by a straight line; beyond the last, and under the air, the ends hold', () => {
    const covered = coverSink(makeSink(fins, square, AMBIENT_C), AMBIENT_C)!
    const at = (c: number) => covered.at(c).fin
    expectWithin(at(123), at(120) + 0.3 * (at(130) - at(120)), { rel: 1e-12, because: 'linear' })
    expect([at(900), at(0)]).toEqual([at(470), at(20)])
    expect(at(20)).toBeGreaterThan(0)
  })
  test('a bare plate loses by its back alone; a sink by its data sheet has no envelope', () => {
    const covered = coverSink(makeSink(coolingOf({ kind: 'none' }), square, AMBIENT_C), AMBIENT_C)!
    const c = coverC(120, 0.9, 20)
    expectWithin(covered.at(120).base, (0.04 * through(120, c, 0.9)) / 100, { rel: 1e-5, because: 'by hand' })
    expect(covered.at(120)).toMatchObject({ link: 0, fin: 0 })
    expect(covered.totalWK(120)).toBe(covered.at(120).base)
    const rated = makeSink(
      coolingOf({ kind: 'rated', resistanceKW: 1, heatCapacityJK: 0, flow: 'natural' }),
      square,
      AMBIENT_C,
    )
    expect(coverSink(rated, AMBIENT_C)).toBeNull()
  })
})
