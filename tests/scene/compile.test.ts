import { describe, expect, test } from 'vitest'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { placeEmitters } from '../../src/lamp/place.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead, iceRink } from '../../src/library/demos.ts'
import { LM_PER_W, photopic } from '../../src/library/photopic.ts'
import { spectrumEfficacy, sunPower } from '../../src/library/spectra.ts'
import { SUN_LIMB } from '../../src/library/sunDisc.ts'
import { whichEmitter } from '../../src/optics/emission.ts'
import * as E from '../../src/optics/emitterRow.ts'
import * as KIND from '../../src/optics/kindRow.ts'
import * as P from '../../src/optics/params.ts'
import { NM_FIRST, NM_STEP, QUANTILES } from '../../src/optics/records.ts'
import * as RING from '../../src/optics/ringRow.ts'
import { compile, compileSun, spectrumQuantiles } from '../../src/scene/compile.ts'
import { facetSlope, ringCount, ringTable } from '../../src/scene/lensRows.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { GREEN, oneEmitter, sceneOf } from '../kit/traceHere.ts'

const single = { rel: 1e-6, because: 'single precision' }

describe('spectrum quantiles', () => {
  test('an even spectrum: even steps', () => {
    const q = spectrumQuantiles(new Float64Array(81).fill(2))
    expect(q.length).toBe(QUANTILES + 1)
    for (const [i, nm] of q.entries())
      expectWithin(nm, 380 + (400 * i) / QUANTILES, { abs: 1e-4, because: 'single precision' })
  })
  test('a ramp: √, from the least to the greatest wavelength', () => {
    const q = spectrumQuantiles(Float64Array.from({ length: 81 }, (_, i) => i))
    for (const [i, nm] of q.entries())
      expectWithin(nm, 380 + 400 * Math.sqrt(i / QUANTILES), { abs: 1e-3, because: 'single precision' })
  })
  test('dark parts of a spectrum are never drawn', () => {
    const power = new Float64Array(81)
    power[20] = 1
    power[60] = 3
    const q = spectrumQuantiles(power)
    const near = (nm: number, grid: number) => Math.abs(nm - (NM_FIRST + NM_STEP * grid)) <= NM_STEP
    for (const nm of q.subarray(1, QUANTILES)) expect(near(nm, 20) || near(nm, 60)).toBe(true)
    expectWithin(q.filter((nm) => near(nm, 20)).length / QUANTILES, 0.25, { abs: 2 / QUANTILES, because: 'one step' })
  })
  test('one wavelength is exact', () => {
    expect(new Set(spectrumQuantiles(555))).toEqual(new Set([555]))
  })
  test('the mean luminous weight of drawn wavelengths is the spectrum’s efficacy', () => {
    const emitter = gannetHead().emitterTypes[0]!
    const scene = sceneOf(gannetHead())
    let sum = 0
    const parts = 8
    for (let i = 0; i < QUANTILES * parts; i++) {
      const cell = Math.floor(i / parts)
      const f = ((i % parts) + 0.5) / parts
      const nm = scene.quantiles[cell]! + f * (scene.quantiles[cell + 1]! - scene.quantiles[cell]!)
      const s = (nm - NM_FIRST) / NM_STEP
      const k = Math.min(79, Math.floor(s))
      sum += scene.lumPerWatt[k]! + (s - k) * (scene.lumPerWatt[k + 1]! - scene.lumPerWatt[k]!)
    }
    // V·S with both linear between grid points, against the trapezoid at the grid points.
    expectWithin(sum / (QUANTILES * parts), spectrumEfficacy(emitter.spectrum), {
      rel: 1e-3,
      because: 'Simpson against trapezoid at 5 nm',
    })
  })
})

describe('emitters', () => {
  test('drawn in proportion to their watts, by the alias table', () => {
    const lamp = gannetHead()
    lamp.boards.forEach((b, i) => {
      b.currentA = 0.3 + 0.07 * i
    })
    const at = solveOperatingPoint(lamp)
    const scene = compile(lamp, at)
    const count = scene.params[P.emitters]!
    expect(count).toBe(placeEmitters(lamp).length)
    const counts = new Float64Array(count)
    const draws = 400_000
    for (let i = 0; i < draws; i++) counts[whichEmitter((i + 0.5) / draws, scene.emitters, count)]!++
    const total = at.fluxLm.reduce((a, b) => a + b, 0)
    for (let i = 0; i < count; i++)
      expectWithin(counts[i]! / draws, at.fluxLm[i]! / total, {
        abs: 4 / draws + 1e-7,
        because: 'even numbers; single precision',
      })
    expectShares(
      counts,
      at.fluxLm.map((f) => f / total),
    )
    expectWithin(scene.emittedLm, total, { rel: 1e-12, because: 'rounding' })
    expectWithin(scene.emittedW, total / spectrumEfficacy(lamp.emitterTypes[0]!.spectrum), {
      rel: 1e-12,
      because: 'rounding',
    })
  })
  test('two spectra: watts, not lumens, decide', () => {
    const lamp = oneEmitter({ fluxLm: 100, spectrum: GREEN })
    lamp.emitterTypes.push({ ...lamp.emitterTypes[0]!, id: 'deep', spectrum: { kind: 'mono', wavelengthNm: 450 } })
    lamp.boardTypes.push({ ...lamp.boardTypes[0]!, id: 'b2', emitter: 'deep' })
    lamp.boards.push({ ...lamp.boards[0]!, id: 'B2', type: 'b2' })
    const scene = sceneOf(lamp)
    const [w1, w2] = [100 / (LM_PER_W * photopic(555)), 100 / (LM_PER_W * photopic(450))]
    expectWithin(scene.emittedW, w1 + w2, { rel: 1e-12, because: 'rounding' })
    let first = 0
    for (let i = 0; i < 10_000; i++) if (whichEmitter((i + 0.5) / 10_000, scene.emitters, 2) === 0) first++
    expectWithin(first / 10_000, w1 / (w1 + w2), { abs: 2e-4, because: 'even numbers' })
  })
  test('place, turn and kind of each', () => {
    const lamp = iceRink()
    const scene = sceneOf(lamp)
    for (const [i, place] of placeEmitters(lamp).entries()) {
      const at = i * E.size
      expectWithin(scene.emitters[at + E.x]!, place.xMm, { abs: 1e-4, because: 'single precision' })
      expectWithin(scene.emitters[at + E.y]!, place.yMm, { abs: 1e-4, because: 'single precision' })
      expectWithin(scene.emitters[at + E.cos]!, Math.cos((place.turnDeg * Math.PI) / 180), {
        abs: 1e-6,
        because: 'single precision',
      })
      const kind = scene.emitters[at + E.kind]! * KIND.size
      expectWithin(scene.kinds[kind + KIND.efficiency]!, 0.9, single)
      expectWithin(scene.kinds[kind + KIND.halfX]!, 7, single)
    }
  })
  test('none, or none that shine: an empty scene, no error', () => {
    expect(sceneOf({ ...gannetHead(), boards: [] })).toMatchObject({ emittedLm: 0, emittedW: 0 })
    const dark = gannetHead()
    for (const b of dark.boards) b.currentA = 0
    expect(sceneOf(dark)).toMatchObject({ emittedLm: 0, emittedW: 0 })
  })
})

describe('lens', () => {
  const lens = {
    ...(gannetHead().lens as Extract<NonNullable<ReturnType<typeof gannetHead>['lens']>, { kind: 'fresnel' }>),
  }
  test('whole rings, to the corners of a square', () => {
    expect(ringCount(lens)).toBe(560)
    expect(ringCount({ ...lens, diameterMm: 560.9 })).toBe(560)
    expect(ringCount({ ...lens, aperture: 'square' })).toBe(Math.floor(560 * Math.SQRT2))
  })
  test('ring records: slope in three forms, tip where facet and leaning riser meet', () => {
    const rings = ringTable(lens)
    for (const k of [0, 1, 100, 559]) {
      const alpha = facetSlope(lens, k)
      const at = k * RING.size
      expectWithin(rings[at + RING.tan]!, Math.tan(alpha), single)
      expectWithin(rings[at + RING.sin]!, Math.sin(alpha), single)
      expectWithin(rings[at + RING.cos]!, Math.cos(alpha), single)
      const tip = rings[at + RING.tip]!
      const lean = k === 0 ? 0 : tip * Math.tan((3 * Math.PI) / 180)
      expectWithin(tip, (lens.pitchMm - lean) * Math.tan(alpha), { rel: 2e-6, because: 'single precision' })
    }
  })
  test('front and back planes of each kind, grooves and curves either way', () => {
    const planes = (over: Parameters<typeof lampWith>[0]) => {
      const { params } = sceneOf(lampWith(over))
      return [params[P.lensFront]!, params[P.lensBack]!]
    }
    const layer = sceneOf(gannetHead()).params[P.lensLayer]!
    expect(layer).toBeGreaterThan(0.1)
    const near = (got: number[], want: number[]) =>
      want.forEach((w, i) => {
        expectWithin(got[i]!, w, { abs: 1e-3, because: 'single precision at a metre' })
      })
    near(planes({}), [1050, 1053 + layer])
    const source = sceneOf(lampWith({ lens: { kind: 'fresnel', grooves: 'source' } })).params[P.lensLayer]!
    near(planes({ lens: { kind: 'fresnel', grooves: 'source' } }), [1050 - source, 1053])
    const solid = {
      kind: 'solid',
      zMm: 1100,
      diameterMm: 200,
      radiusMm: 300,
      conic: 0,
      thicknessMm: 30,
      material: 'crown',
    } as const
    near(planes({ lens: { ...solid, curved: 'target' } }), [1100, 1130])
    near(planes({ lens: { ...solid, curved: 'source' } }), [1070, 1100])
    near(planes({ lens: { kind: 'ideal', zMm: 1100, focalMm: 1000, diameterMm: 300 } }), [1100, 1100])
  })
})

describe('the sun', () => {
  test('power is irradiance × aperture × cos tilt; all else of the scene stays', () => {
    const lamp = gannetHead()
    const scene = sceneOf(lamp)
    const sun = compileSun(scene, lamp, 60)
    expectWithin(sun.emittedW, 1000 * Math.PI * 0.28 ** 2 * 0.5, { rel: 1e-12, because: 'rounding' })
    expect(sun.rings).toBe(scene.rings)
    expect(scene.params[P.source]).toBe(0)
    expect(sun.params[P.source]).toBe(1)
    expectWithin(sun.params[P.sunLimb]!, SUN_LIMB, { rel: 1e-7, because: 'single precision' })
    expect(compileSun(scene, lamp, 60, 0, 0).params[P.sunLimb]).toBe(0)
    expect(sun.quantiles).toEqual(spectrumQuantiles(sunPower()))
  })
  test('a pane in front that is smaller than the lens lets the sun past it, and is left out; one as large counts', () => {
    const lamp = lampWith({ lens: { kind: 'fresnel' } })
    const pane = (diameterMm: number, aside = 0): Lamp => ({
      ...lamp,
      elements: [
        {
          ...{ kind: 'cover', name: 'Pane', zMm: 1100, diameterMm, decentreXMm: aside, aperture: 'round' },
          ...{ thicknessMm: 4, material: 'pmma' },
        },
      ],
    })
    // By hand: 1,000 W/m² on the circle of the lens, 560 mm, or of the pane.
    const sunOf = (of: Lamp) => compileSun(sceneOf(of), of, 0)
    const watts = (radiusM: number) => 1000 * Math.PI * radiusM ** 2
    expectWithin(sunOf(pane(600)).emittedW, watts(0.3), { rel: 1e-12, because: 'rounding' })
    for (const small of [pane(100), pane(600, 30)]) {
      expectWithin(sunOf(small).emittedW, watts(0.28), { rel: 1e-12, because: 'rounding' })
      expect(sunOf(small).assembly!.elements.length).toBe(sunOf(pane(600)).assembly!.elements.length / 2)
    }
    expectWithin(sunOf(pane(600, 20)).emittedW, watts(0.3), { rel: 1e-12, because: 'rounding' })
  })
  test('a square lens: its whole square', () => {
    const lamp = lampWith({ lens: { kind: 'fresnel', aperture: 'square' } })
    expectWithin(compileSun(sceneOf(lamp), lamp, 0).emittedW, 1000 * 0.56 ** 2, { rel: 1e-12, because: 'rounding' })
  })
})
