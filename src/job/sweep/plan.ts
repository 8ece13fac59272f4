// What a sweep tries: one or two parameters, each over a row of values; the cells, and the order they are traced in.
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type Parameter, parametersOf } from './parameters.ts'

export interface SweepAxis {
  /** A path of parametersOf. */
  path: string
  values: readonly number[]
}

/** One or two. Cells are counted along the first, then along the second. */
export type SweepAxes = readonly [SweepAxis] | readonly [SweepAxis, SweepAxis]

export const MOST_CELLS = 4096

export const cellCount = (axes: SweepAxes): number => axes[0].values.length * (axes[1]?.values.length ?? 1)

/** Values of the axes in a cell. */
export function valuesAt(axes: SweepAxes, index: number): number[] {
  const across = axes[0].values.length
  const first = axes[0].values[index % across]!
  const second = axes[1]?.values[Math.floor(index / across)]
  return second === undefined ? [first] : [first, second]
}

/** Evenly spaced, ends included; twelve digits are more than any workshop keeps. */
export function evenly(from: number, to: number, count: number): number[] {
  if (count === 1) return [from]
  return Array.from({ length: count }, (_, i) => Number((from + ((to - from) * i) / (count - 1)).toPrecision(12)))
}

/** Why these axes can't be swept, in a sentence, or null. What only some cells can't stand is said by those cells. */
export function axesFault(lamp: Lamp, axes: readonly SweepAxis[]): string | null {
  const known = parametersOf(lamp)
  if (axes.length < 1 || axes.length > 2) return 'One or two parameters can be tried together.'
  const [first, second] = axes
  if (first && first.path === second?.path) return `${first.path}: the same parameter stands twice.`
  for (const { path, values } of axes) {
    const parameter = known.find((p) => p.path === path)
    if (!parameter) return `${path}: this lamp has no such number.`
    if (values.length === 0) return `${path}: no value to try.`
    if (new Set(values).size < values.length) return `${path}: a value stands twice.`
    for (const v of values) {
      const why = valueFault(parameter, v)
      if (why) return `${path}: ${why}`
    }
  }
  const cells = cellCount(axes as unknown as SweepAxes)
  return cells > MOST_CELLS ? `${cells} cells are too many; at most ${MOST_CELLS}.` : null
}

export function valueFault(parameter: Parameter, value: number): string | null {
  if (!Number.isFinite(value)) return `${value} is no number.`
  if (value < parameter.min) return `${value} does not fit; expected at least ${parameter.min}.`
  if (value > parameter.max) return `${value} does not fit; expected at most ${parameter.max}.`
  if (parameter.integer && !Number.isInteger(value)) return `${value} does not fit; expected a whole number.`
  return null
}

/** The lamp of a cell, or why no such lamp can stand. */
export function lampAt(
  lamp: Lamp,
  axes: SweepAxes,
  values: readonly number[],
): { ok: true; lamp: Lamp } | { ok: false; why: string } {
  const changed = withValues(lamp, axes, values)
  const read = readLamp(changed)
  return read.ok ? { ok: true, lamp: changed } : { ok: false, why: read.why[0]! }
}

export function withValues(lamp: Lamp, axes: readonly SweepAxis[], values: readonly number[]): Lamp {
  return axes.reduce(
    (at, { path }, i) =>
      parametersOf(at)
        .find((p) => p.path === path)
        ?.write(at, values[i]!) ?? at,
    lamp,
  )
}

/**
 * Coarse first: the corners, the middle, then always the cell farthest from all that were taken before, so that the map is whole from the
 * start and only sharpens. A function of the grid alone.
 */
export function coarseFirst(across: number, up: number): number[] {
  const count = across * up
  const place = (i: number) => [unit(i % across, across), unit(Math.floor(i / across), up)] as const
  const gap = new Float64Array(count).fill(Infinity)
  const order: number[] = []
  const take = (i: number) => {
    if (gap[i] === -1) return
    const [x, y] = place(i)
    for (let k = 0; k < count; k++) {
      if (gap[k] === -1) continue
      const [kx, ky] = place(k)
      gap[k] = Math.min(gap[k]!, (kx - x) ** 2 + (ky - y) ** 2)
    }
    gap[i] = -1
    order.push(i)
  }
  const corners = [0, across - 1, count - across, count - 1]
  for (const i of corners) take(i)
  take(Math.floor((up - 1) / 2) * across + Math.floor((across - 1) / 2))
  while (order.length < count) {
    let best = -1
    // A hair of slack: of cells equally far the first is taken, whatever the rounding.
    for (let k = 0; k < count; k++) if (gap[k] !== -1 && (best < 0 || gap[k]! > gap[best]! + 1e-9)) best = k
    take(best)
  }
  return order
}

const unit = (i: number, n: number): number => (n > 1 ? i / (n - 1) : 0)
