// The tunnel's walls and steps, as thick as the workshop's sheet, outside the light: inner sizes are the document's.
import { isRectangle, type Stretch, stretchesOf } from '../lamp/assembly.ts'
import type { Lamp, Tunnel } from '../lamp/schema.ts'
import { flatsPolygon } from '../layout/outline.ts'
import type { Point } from '../layout/shape.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import {
  circle,
  circleSteps,
  cutRegion,
  outlines,
  prism,
  type Ring,
  rectangle,
  ringAt,
  type Solid,
  tube,
} from './shape.ts'

interface Size {
  xMm: number
  yMm: number
}

export interface TunnelPart {
  name: string
  solid: Solid
}

/** Chords of a curve of many stretches may be coarser: triangles go with stretches times steps. */
const FINE_STRETCHES = 8
const COARSE_CHORD_MM = 0.5

/** Walls from the face on, then the steps between them. Stretches that go on without a step are one part where there are many. */
export function tunnelParts(lamp: Lamp): TunnelPart[] {
  const { tunnel } = lamp
  if (!tunnel) return []
  const t = workshopOf(lamp).tunnelThicknessMm
  const stretches = stretchesOf(tunnel)
  const section = makeSection(tunnel, stretches)
  const runs = runsOf(stretches)
  const walls = runs.map(({ from, to, of }) => ({
    name: from === to ? `Tunnel, stretch ${from + 1}` : `Tunnel, stretches ${from + 1} to ${to + 1}`,
    solid: wallOf(of, t, section),
  }))
  const steps = stretches.flatMap((s, i) => {
    const next = stretches[i + 1]
    return next && isStep(s, next) ? [stepOf(s, next, t, section)] : []
  })
  const named = steps.map((solid, i) => ({ name: `Tunnel, step ${i + 1}`, solid }))
  return [...walls.map((w) => (runs.length === 1 ? { ...w, name: 'Tunnel' } : w)), ...named]
}

const isStep = (a: Stretch, b: Stretch): boolean => a.outMm !== b.inMm || a.outHeightMm !== b.inHeightMm

interface Run {
  from: number
  to: number
  of: Stretch[]
}

/** Few stretches stay apart, each with its name. */
function runsOf(stretches: readonly Stretch[]): Run[] {
  const runs: Run[] = []
  for (const [i, s] of stretches.entries()) {
    const last = runs.at(-1)
    const before = last?.of.at(-1)
    if (last && before && stretches.length > FINE_STRETCHES && !isStep(before, s)) {
      last.to = i
      last.of.push(s)
    } else runs.push({ from: i, to: i, of: [s] })
  }
  return runs
}

type Section = (size: Size) => readonly Point[]

function makeSection(tunnel: Tunnel, stretches: readonly Stretch[]): Section {
  if (isRectangle(tunnel)) return ({ xMm, yMm }) => rectangle(xMm, yMm)
  if (tunnel.sides > 0) return ({ xMm }) => flatsPolygon(tunnel.sides, xMm)
  const widest = stretches.reduce((most, s) => Math.max(most, s.inMm, s.outMm), 0)
  const chordMm = stretches.length > FINE_STRETCHES ? COARSE_CHORD_MM : undefined
  const steps = circleSteps(widest / 2, chordMm)
  return ({ xMm }) => circle(xMm / 2, 0, 0, steps)
}

/** Sheet of thickness t square to a slope is t·√(1 + slope²) thick square to the axis. */
const across = (t: number, fromMm: number, toMm: number, highMm: number): number =>
  2 * t * Math.hypot(1, (toMm - fromMm) / 2 / highMm)

function wallOf(run: readonly Stretch[], t: number, section: Section): Solid {
  const inner: Ring[] = []
  const outer: Ring[] = []
  const put = (zMm: number, size: Size, thick: Size) => {
    inner.push(ringAt(section(size), zMm))
    outer.push(ringAt(section({ xMm: size.xMm + thick.xMm, yMm: size.yMm + thick.yMm }), zMm))
  }
  const thickness = (s: Stretch): Size => ({
    xMm: across(t, s.inMm, s.outMm, s.zOutMm - s.zInMm),
    yMm: across(t, s.inHeightMm, s.outHeightMm, s.zOutMm - s.zInMm),
  })
  for (const [i, s] of run.entries()) {
    const before = run[i - 1]
    const own = thickness(s)
    // Where two slopes meet, the thicker of the two.
    const wider = before ? maxSize(own, thickness(before)) : own
    put(s.zInMm, { xMm: s.inMm, yMm: s.inHeightMm }, wider)
  }
  const last = run.at(-1)
  if (last) put(last.zOutMm, { xMm: last.outMm, yMm: last.outHeightMm }, thickness(last))
  return tube(outer, inner)
}

const maxSize = (a: Size, b: Size): Size => ({ xMm: Math.max(a.xMm, b.xMm), yMm: Math.max(a.yMm, b.yMm) })
const minSize = (a: Size, b: Size): Size => ({ xMm: Math.min(a.xMm, b.xMm), yMm: Math.min(a.yMm, b.yMm) })

/** A ring from the narrower section to the wider, as it is drawn, beyond the joint's plane, on the side where no light is: below it where the tunnel widens, above it where it narrows. */
function stepOf(below: Stretch, above: Stretch, t: number, section: Section): Solid {
  const [a, b] = [
    { xMm: below.outMm, yMm: below.outHeightMm },
    { xMm: above.inMm, yMm: above.inHeightMm },
  ]
  const [wide, narrow] = [maxSize(a, b), minSize(a, b)]
  const widens = b.xMm - a.xMm + b.yMm - a.yMm > 0
  const outer = outlines(section(wide))
  const z = below.zOutMm
  return prism(cutRegion(outer, outlines(section(narrow))), widens ? z - t : z, widens ? z : z + t)
}
