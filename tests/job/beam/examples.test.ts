// The example lamps, traced the whole way from document to sheet, in this thread, seeds fixed. Tolerances in standard errors.
import { describe, expect, test } from 'vitest'
import type { Sheet } from '../../../src/job/beam/sheet.ts'
import { traceInNode } from '../../../src/job/service/node.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import { expectWithin } from '../../kit/expect.ts'

const trace = (name: string, maxRays: number, background: boolean): Promise<Sheet> =>
  traceInNode(DEMOS[name]!(), { seed: 1, maxRays, precision: 0, background, threads: 0 })

const share = (sheet: Sheet, line: string) => sheet.ledger.find((row) => row.line === line)!.share.value
const axialOf = (sheet: Sheet, name: string) => sheet.variants.find((v) => v.name === name)!.figures.axialIntensityCd!

for (const name of Object.keys(DEMOS)) {
  test(`${name}: the ledger sums to one, every figure is there or says why not`, async () => {
    const sheet = await trace(name, 65_536, false)
    const sum = sheet.ledger.reduce((total, row) => total + row.share.value, 0)
    expectWithin(sum, 1, { abs: 1e-9, because: 'the ledger closes by construction' })
    for (const figure of Object.values(sheet.figures)) {
      expect(Number.isFinite(figure.value)).toBe(true)
      expect(figure.se).toBeGreaterThanOrEqual(0)
    }
    for (const why of Object.values(sheet.absent)) expect(why).toMatch(/\w.*\.$/)
    expect(sheet.state).toBe('settled')
    expect(sheet.paths.fate.length).toBeGreaterThan(100)
  })
}

describe('what the lens does', () => {
  test('Gannet Head: at least twice the axial candela of the collimators alone', async () => {
    const sheet = await trace('gannet-head', 400_000, true)
    const real = axialOf(sheet, 'as designed')
    const without = axialOf(sheet, 'without lens')
    expect(real.value - 4 * real.se).toBeGreaterThan(2 * (without.value + 4 * without.se))
    expect(sheet.hotSpots.sunInside!.kWm2).toBeGreaterThan(100)
    expect(sheet.findings.some((f) => f.severity === 'severe' && /sun/i.test(f.title))).toBe(true)
  }, 120_000)

  test('Wide array: no brighter than the collimators alone, and the findings say so', async () => {
    const sheet = await trace('wide-array', 400_000, true)
    const real = axialOf(sheet, 'as designed')
    const without = axialOf(sheet, 'without lens')
    expect(real.value + 4 * real.se).toBeLessThan(without.value - 4 * without.se)
    expect(sheet.findings.map((f) => f.title).join('\n')).toMatch(/lens makes the axis darker/)
    expect(sheet.findings.map((f) => f.title).join('\n')).toMatch(/no narrower than its collimators/)
  }, 120_000)
})

describe('Bench check, by hand', () => {
  // 1000 lm from 2 mm square, a cosine emitter at the focus of an ideal lens of 200 mm focal length and 200 mm across: tan u = ½.
  test('flux, axial candela, angles', async () => {
    const sheet = await trace('bench-check', 400_000, false)
    const { fluxOutLm, axialIntensityCd, halfFluxAngleDeg } = sheet.figures
    // Lambertian flux inside u: sin² u = 1/5 (check value 1.21's formula)
    expectWithin(fluxOutLm!.value, 200, { sigmas: 4, se: Math.max(fluxOutLm!.se, 1e-3) })
    // L π f² sin² u, L = Φ/(π A): 1000/4e-6 · 0.04 · 0.2 (thin ideal lens by the tangent law, check values, preface to 2)
    expectWithin(axialIntensityCd!.value, 2.0e6, { sigmas: 4, se: axialIntensityCd!.se })
    // A square of side s at the focus makes a square beam of side s/f; half its flux lies in the circle of radius s/f/√(2π).
    const byHand = ((2 * (2 / 200)) / Math.sqrt(2 * Math.PI)) * (180 / Math.PI)
    expectWithin(halfFluxAngleDeg!.value, byHand, { sigmas: 4, se: Math.max(halfFluxAngleDeg!.se, 2e-4) })
    expectWithin(share(sheet, 'outsideLens'), 0.8, { abs: 2e-4, because: 'low-discrepancy error at 4e5 rays' })
  })
})

test('Stile lamp: what its collimators pass, in the angle of their data sheet', async () => {
  const sheet = await trace('stile-lamp', 400_000, false)
  const { fluxOutLm, beamAngleDeg } = sheet.figures
  expectWithin(fluxOutLm!.value, 0.88 * 2100, { abs: 1e-4, because: 'no other loss; 0.88 in single precision' })
  expectWithin(beamAngleDeg!.value, 20, { sigmas: 4, se: beamAngleDeg!.se + 0.01 })
})

test('the same sheet on one seed, another on another', async () => {
  const once = await trace('gannet-head', 32_768, false)
  const again = await trace('gannet-head', 32_768, false)
  expect(again.figures).toEqual(once.figures)
  const other = await traceInNode(DEMOS['gannet-head']!(), {
    seed: 2,
    maxRays: 32_768,
    precision: 0,
    background: false,
    threads: 0,
  })
  expect(other.figures.fluxOutLm!.value).not.toBe(once.figures.fluxOutLm!.value)
})
