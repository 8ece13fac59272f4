// The example lamps, traced the whole way from document to sheet, in this thread, seeds fixed. Tolerances in standard errors.
import { describe, expect, test, vi } from 'vitest'
import type { Sheet } from '../../../src/job/beam/sheet.ts'
import { traceInNode } from '../../../src/job/service/node.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import { withoutLenses } from '../../../src/library/lensSystem.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin } from '../../kit/expect.ts'
import { sunless } from '../../kit/sunless.ts'

const trace = (name: string, maxRays: number, background: boolean, seed = 1): Promise<Sheet> =>
  traceInNode(lampOf(name), { seed, maxRays, precision: 0, background, threads: 0 })

/** The sun is 1.7 million rays through every groove of a lens: traced there by the long suite; through the ideal lens of Bench check always. */
const SUNLESS = amount(['gannet-head', 'wide-array'], [])
function lampOf(name: string): Lamp {
  const lamp = DEMOS[name]!()
  return SUNLESS.includes(name) ? sunless(lamp) : lamp
}

// A machine with other work takes its time.
vi.setConfig({ testTimeout: 240_000 })

/** What the lens and the sun do is plain from few rays; figures by hand take more. */
const RAYS: Record<string, number> = {
  'gannet-head': amount(32_768, 400_000),
  'wide-array': amount(32_768, 400_000),
  'bench-check': amount(262_144, 400_000),
  'stile-lamp': amount(131_072, 400_000),
}
/** Their sun and variants are traced too: a million rays for each variant. */
const WHOLE = amount(['wide-array', 'bench-check'], ['gannet-head', 'wide-array', 'bench-check'])
const traced = new Map<string, Promise<Sheet>>()
/** One trace for all tests of a lamp. */
function sheetOf(name: string): Promise<Sheet> {
  const known = traced.get(name) ?? trace(name, RAYS[name] ?? amount(16_384, 65_536), WHOLE.includes(name))
  traced.set(name, known)
  return known
}

const share = (sheet: Sheet, line: string) => sheet.ledger.find((row) => row.line === line)!.share.value
const axialOf = (sheet: Sheet, name: string) => sheet.variants.find((v) => v.name === name)!.figures.axialIntensityCd!

for (const name of Object.keys(DEMOS)) {
  test(`${name}: the ledger sums to one, every figure is there or says why not`, async () => {
    const sheet = await sheetOf(name)
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
    const sheet = await sheetOf('gannet-head')
    const real = sheet.figures.axialIntensityCd!
    const alone = withoutLenses(lampOf('gannet-head'))!
    const options = { seed: 1, maxRays: sheet.rays, precision: 0, background: false, threads: 0 }
    const without = (await traceInNode(alone, options)).figures.axialIntensityCd!
    expect(real.value - 4 * real.se).toBeGreaterThan(2 * (without.value + 4 * without.se))
  })

  test('Wide array: no brighter than the collimators alone, and the findings say so', async () => {
    const sheet = await sheetOf('wide-array')
    const real = axialOf(sheet, 'as designed')
    const without = axialOf(sheet, 'without lens')
    expect(real.value + 4 * real.se).toBeLessThan(without.value - 4 * without.se)
    expect(sheet.findings.map((f) => f.title).join('\n')).toMatch(/lens makes the axis darker/)
    expect(sheet.findings.map((f) => f.title).join('\n')).toMatch(/no narrower than its collimators/)
  })
})

test.each(amount(['bench-check'], ['bench-check', 'gannet-head']))('%s: the sun inside is severe', async (name) => {
  const sheet = await sheetOf(name)
  expect(sheet.hotSpots.sunInside!.kWm2).toBeGreaterThan(100)
  expect(sheet.findings.some((f) => f.severity === 'severe' && /sun/i.test(f.title))).toBe(true)
})

describe('Bench check, by hand', () => {
  // 1000 lm from 2 mm square, a cosine emitter at the focus of an ideal lens of 200 mm focal length and 200 mm across: tan u = ½.
  test('flux, axial candela, angles', async () => {
    const sheet = await sheetOf('bench-check')
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
  const sheet = await sheetOf('stile-lamp')
  const { fluxOutLm, beamAngleDeg } = sheet.figures
  expectWithin(fluxOutLm!.value, 0.88 * 2100, { abs: 1e-4, because: 'no other loss; 0.88 in single precision' })
  expectWithin(beamAngleDeg!.value, 20, { sigmas: 4, se: beamAngleDeg!.se + 0.01 })
})

test('the same sheet on one seed, another on another', async () => {
  const once = await trace('gannet-head', amount(8192, 32_768), false)
  const again = await trace('gannet-head', amount(8192, 32_768), false)
  expect(again.figures).toEqual(once.figures)
  const other = await trace('gannet-head', amount(8192, 32_768), false, 2)
  expect(other.figures.fluxOutLm!.value).not.toBe(once.figures.fluxOutLm!.value)
})
