// What the low-discrepancy sequence saves: plain random rays needed for the same standard error, by figure. Error² of a figure over
// independent seeds, both ways, same rays; the ratio is how many times more plain rays would be needed.
import { readBeam } from '../../src/beam/beam.ts'
import { runRounds } from '../../src/engine/rounds.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { operatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { sampleSd } from '../../src/num/stats.ts'
import { compile } from '../../src/scene/compile.ts'

const FIGURES = ['fluxOutLm', 'axialIntensityCd', 'beamAngleDeg', 'halfFluxAngleDeg', 'spillOutsideField'] as const
type Named = (typeof FIGURES)[number]

export interface Saving {
  lamp: string
  figure: string
  /** Variance of plain random over variance of the sequence. */
  timesFewerRays: number
}

async function spread(lamp: Lamp, plainRandom: boolean, rays: number, seeds: number): Promise<Record<Named, number>> {
  const pool = makePool([inlineWorker()])
  const scene = compile(lamp, operatingPoint(lamp))
  const shape = chooseShape(scene, lamp)
  const values = new Map<Named, number[]>(FIGURES.map((f) => [f, []]))
  for (let seed = 1; seed <= seeds; seed++) {
    const run = await runRounds(pool, scene, shape, { seed, maxRays: rays, plainRandom, exitsBelow: 0 }, () => true)
    const { figures } = readBeam(run, lamp)
    for (const f of FIGURES) values.get(f)!.push(figures[f]?.value ?? Number.NaN)
  }
  return Object.fromEntries([...values].map(([f, v]) => [f, sampleSd(v)])) as Record<Named, number>
}

export async function savings(rays = 65_536, seeds = 24): Promise<Saving[]> {
  const out: Saving[] = []
  for (const name of ['gannet-head', 'stile-lamp', 'ice-rink']) {
    const lamp = DEMOS[name]!()
    const plain = await spread(lamp, true, rays, seeds)
    const sequence = await spread(lamp, false, rays, seeds)
    for (const figure of FIGURES) {
      out.push({
        lamp: lamp.name,
        figure,
        timesFewerRays: Math.round((plain[figure] / sequence[figure]) ** 2 * 10) / 10,
      })
    }
  }
  return out
}
