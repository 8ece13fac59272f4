// Optima that theory knows: the search finds them on whole lamps.
import { describe, expect, test } from 'vitest'
import { evaluateLamp } from '../../../src/job/choose/evaluate.ts'
import type { Evaluator, Outcome } from '../../../src/job/choose/evaluating.ts'
import { lampFor } from '../../../src/job/choose/moves.ts'
import type { OptimizePlan } from '../../../src/job/choose/plan.ts'
import { type OptimizeResult, optimize } from '../../../src/job/choose/run.ts'
import { inlineEvaluator } from '../../../src/job/choose/service.ts'
import { objectiveOf } from '../../../src/job/choose/wishes.ts'
import { lampOperatingPoint } from '../../../src/job/power/light.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, gannetHead } from '../../../src/library/demos.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { T95 } from '../../../src/num/stats.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin } from '../../kit/expect.ts'

const plan = (part: Partial<OptimizePlan>): OptimizePlan => ({
  moves: [],
  wants: [{ figure: 'axialIntensityCd', aim: 'most' }],
  keeps: [],
  seed: 1,
  rays: 1024,
  evaluations: 40,
  ...part,
})

/** By tracing, without the findings of the end, which take longer than all the rest. */
const unjudged = (): Evaluator => {
  const own = inlineEvaluator()
  const none = { ok: false, why: 'Findings are not asked for.' } as const
  return { ...own, evaluate: async (r) => (r.figures.includes('severeFindings') ? none : own.evaluate(r)) }
}

/** The best that the search itself found: its check traces each of the last ones sixteen times. */
async function searched(lamp: Lamp, of: OptimizePlan): Promise<OptimizeResult> {
  const stop = new AbortController()
  const onProgress = ({ stage }: { stage: string }) => stage === 'check' && stop.abort()
  return optimize([inlineEvaluator()], lamp, of, { signal: stop.signal, onProgress })
}

/** The lumens put in, without tracing. */
const byFlux = (): Evaluator => ({
  async evaluate({ lamp, moves, values, accepted }): Promise<Outcome> {
    const made = lampFor(lamp, moves, values, accepted)
    if (!made.ok) return made
    const value = lampOperatingPoint(made.lamp).fluxLm.reduce((a, b) => a + b, 0)
    return { ok: true, evaluation: { figures: { fluxOutLm: { value, se: 0 } }, absent: {}, findings: [] } }
  },
  again() {},
  close() {},
})

describe('packing', () => {
  // Discs of radius r in the plane: hexagonal π/√12 = 0.9069, square π/4 = 0.7854, 2/√3 = 1.1547 times as many (A. Thue's theorem; J. H. Conway, N. J. A. Sloane,
  // Sphere Packings, Lattices and Groups, 3rd edition (1999), chapter 1).
  test('most emitters on a wide face: boards laid in a hexagonal pattern, 2/√3 of the square one’s', async () => {
    const demo = gannetHead()
    const [type] = demo.boardTypes
    const [board] = demo.boards
    const diameterMm = 12
    const faceMm = 300
    const lamp: Lamp = {
      ...demo,
      tunnel: null,
      lens: null,
      face: { ...demo.face, shape: 'round', sizeMm: faceMm, keepOuts: [], clearanceMm: 0, marginMm: 0 },
      boardTypes: [{ ...type!, outline: { shape: 'disc', diameterMm }, sites: [{ xMm: 0, yMm: 0 }] }],
      boards: [board!, { ...board!, id: 'B2', xMm: 40, yMm: 0 }],
    }
    const moves = [{ kind: 'choice', path: 'boards.pattern', keys: ['square', 'drawn', 'hexagonal'] }] as const
    const { confirmation, best } = await optimize(
      [byFlux()],
      lamp,
      plan({ moves, wants: [{ figure: 'fluxOutLm', aim: 'most' }], evaluations: 6 }),
    )
    expect(confirmation!.best.values).toEqual(['hexagonal'])
    expect(best!.values).toEqual(['hexagonal'])
    const count = (key: string) => {
      const made = lampFor(lamp, moves, [key], ['layout'])
      return made.ok ? made.lamp.boards.length : 0
    }
    const share = (n: number) => n * (diameterMm / faceMm) ** 2
    // At the edge some room is lost.
    expect(share(count('hexagonal'))).toBeGreaterThan(0.9 * (Math.PI / Math.sqrt(12)))
    expect(share(count('hexagonal'))).toBeLessThan(Math.PI / Math.sqrt(12))
    expect(share(count('square'))).toBeLessThan(Math.PI / 4)
    expect(count('hexagonal') / count('square')).toBeCloseTo(2 / Math.sqrt(3), 1)
  })
})

// No optic narrows light for nothing: out of an aperture of radius A the light of a Lambertian disc of radius a needs a cone of sin θ = a/A, and its exit is no brighter
// than the disc, so that the axis has at most Φ/π · (A/a)² (R. Winston, J. C. Miñano, P. Benítez, Nonimaging Optics (2005), chapter 2; second-hand).
describe('the sine law', () => {
  const bench = benchCheck()
  const [emitter] = bench.emitterTypes
  const radiusMm = 2.5
  const fluxLm = 1000
  const disc: Lamp = {
    ...bench,
    lens: null,
    emitterTypes: [{ ...emitter!, fluxLm, source: { shape: 'disc', diameterMm: 2 * radiusMm }, heightMm: 0 }],
  }

  // A mirrored funnel with so little flare that the light fills the cone of the law, as behind a compound parabolic concentrator: 250 mm for 5 mm.
  test('a long mirrored funnel for a beam of 30°: its exit is a/sin 15°, and the axis as bright as may be', async () => {
    const tunnel = {
      ...({ sides: 0, inMm: 2 * radiusMm + 0.02, zInMm: 0.01, zOutMm: 250 } as const),
      ...{ reflectance: 1, specularShare: 1, scatterDeg: 0 },
    }
    const wanted = (2 * radiusMm) / Math.sin(Math.PI / 12)
    const most = fluxLm / Math.PI / Math.sin(Math.PI / 12) ** 2
    const wants = [{ figure: 'beamAngleDeg', aim: 'equal', value: 30 }] as const
    const lampAt = (outMm: number): Lamp => ({ ...disc, tunnel: { ...tunnel, outMm } })
    const rays = amount(2048, 8192)
    const read = async (outMm: number) => {
      const figures = ['beamAngleDeg', 'axialIntensityCd'] as const
      const found = (await evaluateLamp(lampAt(outMm), { seed: 1, rays, figures })).figures
      return { off: objectiveOf(wants[0], found.beamAngleDeg!), cd: found.axialIntensityCd!.value }
    }
    const best = await read(wanted)
    expect(best.off).toBeLessThan(0.3)
    for (const by of [0.95, 1.05]) expect((await read(by * wanted)).off).toBeGreaterThan(best.off + 0.5)
    expect(best.cd).toBeLessThan(1.01 * most)
    expect(best.cd).toBeGreaterThan(0.97 * most)
    // A search of it takes seconds: from twenty random places in the long form.
    const random = seededRandom(1)
    for (let i = 0; i < amount(0, 20); i++) {
      const moves = [{ kind: 'number', path: 'tunnel.outMm', min: 14, max: 26 }] as const
      const found = await searched(
        lampAt(14 + 12 * random()),
        plan({ moves, wants, rays, evaluations: 100, seed: i + 1 }),
      )
      // The edge of the cone is not quite sharp behind a funnel, and the beam is known to 0.1°.
      expect(Math.abs(Number(found.best!.values[0]) / wanted - 1)).toBeLessThan(0.015)
    }
  })

  test('a collimator is made as narrow as its exit lets it be, and no narrower', async () => {
    const exitMm = 50
    const efficiency = 0.9
    const optic = { kind: 'collimator', id: 'bare', name: 'Collimator', shape: 'gaussian', fwhmDeg: 30 } as const
    const lamp: Lamp = { ...disc, opticTypes: [{ ...optic, exitDiameterMm: exitMm, heightMm: 20, efficiency }] }
    const moves = [{ kind: 'number', path: 'optics.bare.fwhmDeg', min: 4, max: 40 }] as const
    const { confirmation, refused } = await optimize([unjudged()], lamp, plan({ moves, evaluations: 100 }))
    const share = (2 * radiusMm) / exitMm
    // ∫ I/I₀ dΩ of a narrow Gaussian of full width w is π w²/(4 ln 2); the light of the disc needs π (a/A)² of it at the least.
    const narrowest = (2 * Math.sqrt(Math.LN2 * efficiency) * share * 180) / Math.PI
    expectWithin(Number(confirmation!.best.values[0]), narrowest, {
      rel: 0.01,
      because: 'steps of 0.01° and few lamps',
    })
    expectWithin(confirmation!.best.figures.axialIntensityCd!.value, fluxLm / Math.PI / share ** 2, {
      rel: 0.02,
      because: 'the width is found to 1 %',
    })
    expect(refused[0]?.why).toContain('smallest possible width')
  })
})

test('a front of traced lamps: no random neighbour is better in both by more than ±', async () => {
  const lamp = benchCheck()
  const moves = [{ kind: 'number', path: 'lens.zMm', min: 185, max: 230 }] as const
  const wants = [
    { figure: 'axialIntensityCd', aim: 'most' },
    { figure: 'lengthMm', aim: 'least' },
  ] as const
  const { front } = await optimize([inlineEvaluator()], lamp, plan({ moves, wants, evaluations: amount(16, 120) }))
  expect(front.length).toBeGreaterThan(amount(4, 15))
  const figures = wants.map((w) => w.figure)
  const random = seededRandom(5)
  for (const { values, evaluation } of front.filter((_, i) => i % amount(12, 3) === 0)) {
    const [cd, length] = figures.map((f) => evaluation.figures[f]!)
    // Longer than the focal length only costs.
    expect(Number(values[0])).toBeLessThan(201)
    for (let i = 0; i < amount(3, 200); i++) {
      const beside = Math.max(185, Number(values[0]) + 4 * (random() - 0.5))
      const made = lampFor(lamp, moves, [beside], ['layout', 'etendue'])
      if (!made.ok) continue
      const found = (await evaluateLamp(made.lamp, { seed: 2, rays: 1024, figures })).figures
      const gain = found.axialIntensityCd!.value - cd!.value
      const shorter = length!.value - found.lengthMm!.value
      // Steps of the search: 0.05 mm.
      if (shorter > 0.05) expect(gain).toBeLessThan(T95 * Math.hypot(cd!.se, found.axialIntensityCd!.se))
    }
  }
})
