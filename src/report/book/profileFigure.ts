// Intensity over the angle from the axis, as the beam sheet's plot has it: linear, with its error as a band.

import type { Sheet } from '../../job/beam/sheet.ts'
import { T95 } from '../../num/stats.ts'
import { inThousands } from '../../num/thousands.ts'
import { FAINT, INK, line, type Point, QUIET, roundBelow, shape, text } from './figureMarks.ts'
import type { Figure, Mark } from './model.ts'

const WIDTH = 480
const HEIGHT = 150
const LEFT = 44
const RIGHT = 10
const TOP = 8
const BOTTOM = 24

/** Null where no light leaves the lamp. */
export function profileFigure({ profile, figures }: Pick<Sheet, 'profile' | 'figures'>): Figure | null {
  const { thetaDeg, cd, seCd } = profile
  const most = cd.reduce((a, x) => Math.max(a, x), 0)
  const lastDeg = thetaDeg.at(-1) ?? 0
  if (!(most > 0) || !(lastDeg > 0)) return null
  const field = figures.fieldAngleDeg?.value ?? lastDeg
  const toDeg = Math.min(lastDeg, Math.max(0.8 * field, 1))
  const top = 1.08 * most
  const at = (deg: number, value: number): Point => [
    LEFT + (deg / toDeg) * (WIDTH - LEFT - RIGHT),
    HEIGHT - BOTTOM - (Math.max(0, Math.min(top, value)) / top) * (HEIGHT - TOP - BOTTOM),
  ]
  const shown = [...thetaDeg.keys()].filter((i) => (thetaDeg[i] ?? 0) <= toDeg)
  const curve = (shift: number) => shown.map((i) => at(thetaDeg[i] ?? 0, (cd[i] ?? 0) + shift * T95 * (seCd[i] ?? 0)))
  const marks: Mark[] = [
    ...axes(toDeg, top, at),
    shape([...curve(1), ...curve(-1).reverse()], { fill: '#f3dfae' }),
    line(curve(0), { stroke: '#8a5a00', width: 1 }),
  ]
  return { width: WIDTH, height: HEIGHT, marks, words: 'Intensity over the angle from the axis.' }
}

function axes(toDeg: number, top: number, at: (deg: number, value: number) => Point): Mark[] {
  const stepDeg = roundBelow(toDeg / 4)
  const step = roundBelow(top / 3)
  const steps = (to: number, by: number) => Array.from({ length: Math.floor(to / by + 1e-9) + 1 }, (_, i) => i * by)
  const number = (x: number) => inThousands(Number(x.toPrecision(6)))
  return [
    ...steps(top, step).flatMap((v) => [
      line([at(0, v), at(toDeg, v)], { stroke: FAINT, width: 0.3 }),
      text([LEFT - 4, at(0, v)[1] + 2.5], number(v), { anchor: 'end' }),
    ]),
    ...steps(toDeg, stepDeg).flatMap((d) => [
      line([at(d, 0), [at(d, 0)[0], at(d, 0)[1] + 3]], { stroke: INK, width: 0.5 }),
      text([at(d, 0)[0], HEIGHT - BOTTOM + 11], `${number(d)}°`, { anchor: 'middle' }),
    ]),
    line([at(0, top), at(0, 0), at(toDeg, 0)], { stroke: INK, width: 0.7 }),
    text([LEFT + 3, TOP + 4], 'cd', { colour: QUIET }),
  ]
}
