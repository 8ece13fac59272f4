// Geometry of a mode's curves over time, and its energy balance.
import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import type { EnergyAccount, ModeRun } from '../../../electrothermal/result.ts'
import { fractionalIndex } from '../../../num/interpolate.ts'
import { THIN, toDigits } from '../../common/format.ts'
import type { TimeScale } from '../../common/timeScale.ts'

export interface CurvePlot {
  paths: string[]
  y(value: number): number
  yTicks: number[]
}

/** Several curves on one scale; `zero`: the scale starts at zero. */
export function plotCurves(
  tS: ArrayLike<number>,
  curves: readonly ArrayLike<number>[],
  time: TimeScale,
  [topPx, footPx]: readonly [number, number],
  zero: boolean,
): CurvePlot {
  let least = zero ? 0 : Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (const curve of curves) {
    for (let i = 0; i < curve.length; i++) {
      least = Math.min(least, curve[i]!)
      most = Math.max(most, curve[i]!)
    }
  }
  if (!(most > least)) most = least + 1
  const y = scaleLinear([least, most], [footPx, topPx]).nice(3)
  const draw = line<number>(
    (i) => time.x(tS[i]!),
    () => y(0),
  )
  const places = Array.from(tS, (_, i) => i)
  return {
    paths: curves.map((curve) => draw.y((i) => y(curve[i]!))(places) ?? ''),
    y: (value) => y(value),
    yTicks: y.ticks(3),
  }
}

export function onCurve(tS: ArrayLike<number>, y: ArrayLike<number>, at: number): number {
  const [i, part] = fractionalIndex(tS, at)
  return y[i]! + part * ((y[i + 1] ?? y[i]!) - y[i]!)
}

const LINES: readonly [keyof EnergyAccount, string][] = [
  ['lightJ', 'Leaves as light'],
  ['toAirJ', 'To the air'],
  ['storedJ', 'Stored in plate and sink'],
  ['wallJ', 'Into the tunnel’s wall'],
  ['driverJ', 'Lost in drivers'],
  ['wiresJ', 'Lost in wires'],
  ['cellsJ', 'Lost in the supply'],
]

interface EnergyLine {
  name: string
  joule: number
  /** Share of the input. */
  share: number
}

/** The energy put in until a moment and where it went; empty lines are left out. */
export function energyAt({ curves, energy }: Pick<ModeRun, 'curves' | 'energy'>, at: number) {
  const of = (key: keyof EnergyAccount) => onCurve(curves.tS, energy[key], at)
  const inJ = of('inJ')
  const lines: EnergyLine[] = LINES.map(([key, name]) => ({
    name,
    joule: of(key),
    share: inJ > 0 ? of(key) / inJ : 0,
  })).filter((l) => l.joule > 0)
  return { inJ, lines }
}

/** In Wh where the total is large: all lines of a balance use the same unit. */
export const energyWords = (joule: number, wholeJ = joule): string =>
  wholeJ < 3600 ? `${toDigits(joule, 3)}${THIN}J` : `${toDigits(joule / 3600, 3)}${THIN}Wh`
