// Three hundred emitters whose lens leaves the axis dark, by closed form: how many rays it takes to settle, and what the comparisons and findings say.
import { expect, test, vi } from 'vitest'
import { variantEffects } from '../../../src/app/sheet/words.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import type { Sheet } from '../../../src/job/beam/sheet.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import type { Lamp, Site } from '../../../src/lamp/schema.ts'
import { hexagonalPlaces } from '../../../src/num/places.ts'
import type { Figure } from '../../../src/run/figure.ts'
import { expectWithin } from '../../kit/expect.ts'
import { sunless } from '../../kit/sunless.ts'
import { oneEmitter } from '../../kit/traceHere.ts'

// A machine with other work takes its time.
vi.setConfig({ testTimeout: 240_000 })

const EMITTERS = 300
const [FOCAL_MM, LENS_MM, RADIUS_MM] = [100, 50, 20]
/** Seen along the axis from afar the lens shows the face this far from the axis: y (1 − z/f) at its rim. */
const SEEN_MM = RADIUS_MM * (1 - LENS_MM / FOCAL_MM)
/** Where they stand that it shows. */
const SHOWN_MM = 6
const CD_EACH = 100 / Math.PI
/**
 * Along the axis, of one that it shows. Lambert: dΦ = L cos⁴θ d²y d²(tan θ); the lens maps (y, tan θ) with determinant 1, onto 1/(1 − z/f)² of the
 * emitter's area; θ is where that light leaves it. Derived.
 */
const CD_SHOWN = (CD_EACH * Math.cos(Math.atan(SHOWN_MM / (FOCAL_MM - LENS_MM))) ** 4) / (1 - LENS_MM / FOCAL_MM) ** 2
/** Rays that it takes to settle: no run settles on fewer, and neither axis asks for more. */
const SETTLES_AT = 1 << 20

const beside = hexagonalPlaces(13, 3).filter(({ xMm, yMm }) => Math.hypot(xMm, yMm) > RADIUS_MM * 1.1)
const shown = (n: number): Site[] =>
  Array.from({ length: n }, (_, k) => {
    const at = (2 * Math.PI * k) / n
    return { xMm: SHOWN_MM * Math.cos(at), yMm: SHOWN_MM * Math.sin(at) }
  })

/** So many emitters where the lens shows them along the axis; the others beside that. */
function lampWith(n: number): Lamp {
  const sites = [...shown(n), ...beside].slice(0, EMITTERS)
  expect(sites.length).toBe(EMITTERS)
  expect(sites.filter(({ xMm, yMm }) => Math.hypot(xMm, yMm) < SEEN_MM).length).toBe(n)
  const lens = { kind: 'ideal', zMm: LENS_MM, focalMm: FOCAL_MM, diameterMm: 2 * RADIUS_MM } as const
  return sunless(oneEmitter({ sites, lens, fluxLm: 100 }))
}

async function settle(lamp: Lamp) {
  const pool = makePool([inlineWorker(queueMicrotask)])
  const options = { seed: 1, maxRays: 4 * SETTLES_AT, precision: 0.01, background: true, onlyLast: true }
  const sheet = await traceLamp(pool, lamp, options, () => {})
  pool.close()
  return sheet!
}

const axisOf = (sheet: Sheet, name: string): Figure | undefined =>
  sheet.variants.find((v) => v.name === name)?.figures.axialIntensityCd

test('dark beside its ring: it settles, and the comparisons say by how much the lens darkens it', async () => {
  const sheet = await settle(lampWith(3))
  expect(sheet.rays).toBe(SETTLES_AT)
  expect(sheet.reached!.share).toBeLessThan(0.01)
  const [own, without] = ['as designed', 'without lens'].map((name) => axisOf(sheet, name)!) as [Figure, Figure]
  expectWithin(own.value, 3 * CD_SHOWN, { sigmas: 4, se: own.se })
  expectWithin(without.value, EMITTERS * CD_EACH, { sigmas: 4, se: without.se })
  const times = (EMITTERS * CD_EACH) / (3 * CD_SHOWN)
  expect(times).toBeCloseTo(25.7, 1)
  const found = /left out, the axis would be ([\d.]+) times as bright/.exec(variantEffects(sheet.variants).join())
  expectWithin(Number(found?.[1]), times, {
    sigmas: 4,
    se: times * Math.hypot(without.se / without.value, own.se / own.value),
  })
  expect(titleOf(sheet)).toMatch(/^The lens makes the axis darker: 37\d cd with it, \d+ cd without\.$/)
})

test('with no light on the axis at all: it settles all the same, and the comparison says what there would be', async () => {
  const sheet = await settle(lampWith(0))
  expect(sheet.rays).toBe(SETTLES_AT)
  expect(sheet.reached).toMatchObject({ share: 0, of: 'peak' })
  expect(sheet.figures.axialIntensityCd).toBeUndefined()
  const without = axisOf(sheet, 'without lens')!
  expectWithin(without.value, EMITTERS * CD_EACH, { sigmas: 4, se: without.se })
  expect(titleOf(sheet)).toMatch(/^No ray has gone along the axis with the lens: \d+ cd without it\.$/)
  expect(variantEffects(sheet.variants)[0]).toMatch(
    /^The lens keeps the axis dark, as far as rays have shown: left out, it would have .*cd\.$/,
  )
})

const titleOf = (sheet: Sheet) => sheet.findings.find(({ rule }) => rule === 'lens-does-not-help')?.title
