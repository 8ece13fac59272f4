// Cut-outs and fold-backs at the ends of what is permitted, on random lamps: each run ends by itself, and its energy closes.
import { expect, test } from 'vitest'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { Protection } from '../../src/lamp/schema.ts'
import { modeWords } from '../../src/report/power.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { dice } from '../kit/randomLamp.ts'
import { randomPowerLamp } from '../kit/randomPower.ts'

test.each(seeds(amount(4, 100)))('seed %i', (seed) => {
  const { lamp, kept: retained } = randomPowerLamp(seed)
  const { power } = lamp
  if (!power) throw new Error(`seed ${seed}: no power`)
  const d = dice(seed + 104_729)
  const openC = d.pick([20, 30, 50, 70, 250])
  const startC = d.pick([20, 35, 60, 249])
  const protection: Protection = {
    ...(d.chance(0.7) ? { cutOut: d.chance(0.8) ? { openC, closeC: openC - d.pick([1, 5, 40]) } : { openC } } : {}),
    ...(d.chance(0.7)
      ? { foldBack: { startC, endC: d.pick([startC + 1, 250]), leastShare: d.pick([0, 0.3, 1]) } }
      : {}),
  }
  // A slow sensor somewhere, and drivers whose losses warm the plate that it reads.
  const reach = 0.35 * lamp.face.sizeMm
  const place = () => d.pick([-reach, 0, reach])
  const sensor = d.chance(0.7) ? { sensor: { xMm: place(), yMm: place(), lagS: d.pick([0, 5, 60, 3600]) } } : {}
  const mounted = d.pick(['plate', 'elsewhere'] as const)
  const drivers = power.drivers.map((driver) => ({ ...driver, mounted }))
  const read = readLamp({ ...lamp, power: { ...power, drivers, protection: { ...protection, ...sensor } } })
  if (!read.ok) throw new Error(read.why.join(' '))
  const report = runPower(read.lamp, { retained })
  for (const run of report.modes) {
    expect(run.curves.tS.length, `${run.name}: ends by itself`).toBeLessThan(3500)
    for (const curve of Object.values(run.curves)) expect(curve.every(Number.isFinite)).toBe(true)
    const e = run.energy
    for (const [i, inJ] of e.inJ.entries()) {
      const parts = [e.lightJ, e.wallJ, e.storedJ, e.toAirJ, e.driverJ, e.wiresJ, e.cellsJ]
      const out = parts.reduce((sum, y) => sum + (y[i] ?? Number.NaN), 0)
      // Where nothing flows yet, what is left of rounding.
      expectWithin(out, inJ, { abs: 1e-3 * Math.max(1, inJ), because: 'required at each step' })
    }
    expect(modeWords(run)).not.toMatch(/NaN|undefined|Infinity|null/)
    expect(JSON.stringify(run.protection)).not.toMatch(/NaN/)
  }
  for (const f of powerFindings(read.lamp, report))
    expect(`${f.title}${f.why}`).not.toMatch(/NaN|undefined|Infinity|null/)
})
