// Lamps at the ends of what the schema permits. An example is walked together with its schema: each entry is left as it is or set to an end of
// its range, so that whatever is added to the schema is tried too.
import { z } from 'zod'
import { polygonFace } from '../../src/lamp/facePlate.ts'
import { findLensMaterialFaults } from '../../src/lamp/materialChecks.ts'
import { readLamp } from '../../src/lamp/read.ts'
import { type Lamp, lampSchema } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { coolingOf, powerOf } from '../../src/library/typicalPower.ts'
import { type Dice, dice } from './randomLamp.ts'

/** What stands for "no limit". */
const HUGE = 1e300
/** So many rows of a list, so that a lamp is soon computed. */
const ROWS = 3
const TRIES = 60

/** A permitted lamp, from a seed; the same seed gives the same lamp while the schema stays as it is. */
export function extremeLamp(seed: number): Lamp {
  for (let i = 0; i < TRIES; i++) {
    const read = readLamp(draw(dice(seed * TRIES + i + 1)))
    if (read.ok) return read.lamp
  }
  throw new Error(`extremeLamp ${seed}: none of ${TRIES} lamps was permitted`)
}

/** What a run says of light that was cut off after its last bounce. */
export const BOUNCES = /bounce limit/

/**
 * Light ends there only in tunnels that reflect nearly all of it (0.944²⁰⁰ is 1e-5, and no path is cut off before its 200th bounce), and in
 * clear lenses so short for their width that most of what enters is totally reflected from groove to groove.
 */
export const traps = ({ tunnel, lens }: Lamp): boolean =>
  (tunnel?.reflectance ?? 0) >= 0.944 || (lens?.kind === 'fresnel' && lens.focalMm < lens.diameterMm / 4)

function draw(d: Dice): unknown {
  const demo = d.pick(Object.values(DEMOS))()
  const types = demo.boardTypes.map((t) => ({ ...t, sites: t.sites.slice(0, ROWS) }))
  const boards = demo.boards.slice(0, ROWS).map(({ siteOptics: _, ...b }) => b)
  const power = powerOf(demo).value
  const small = {
    ...demo,
    boardTypes: types,
    boards,
    cooling: coolingOf(demo).value,
    power: { ...power, modes: [d.pick(power.modes)] },
    heat: d.pick([{ kind: 'rated' }, { kind: 'board', boardC: 60 }]),
  }
  const share = d.pick([0.01, 0.03, 0.1, 0.3, 0.8])
  return fitted(walk(lampSchema, small, { d, share, key: '' }) as Lamp, d)
}

interface At {
  d: Dice
  /** Of the entries that are set to an end of their range. */
  share: number
  key: string
}

/** Names, and what hangs together with them, stay as they are. */
const KEPT = ['format', 'version', 'id', 'type', 'emitter', 'optic', 'group', 'driver', 'mode', 'heat', 'powerUp']

function walk(schema: unknown, value: unknown, at: At): unknown {
  const { d, share, key } = at
  if (KEPT.includes(key)) return value
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodNullable) {
    const none = schema instanceof z.ZodOptional ? undefined : null
    const there = d.chance(share) ? d.chance(0.5) : value !== undefined && value !== null
    return there ? walk(schema.unwrap(), value ?? undefined, at) : none
  }
  if (schema instanceof z.ZodNumber) return value === undefined || d.chance(share) ? numberOf(schema, d) : value
  if (schema instanceof z.ZodEnum) return value === undefined || d.chance(share) ? d.pick(schema.options) : value
  if (schema instanceof z.ZodLiteral) return schema.value
  if (schema instanceof z.ZodDiscriminatedUnion) {
    const { discriminator } = schema.def
    const options = schema.options as z.ZodObject[]
    const own = options.find((o) => isKind(o, discriminator, value))
    return own && !d.chance(share) ? walk(own, value, at) : walk(d.pick(options), undefined, at)
  }
  if (schema instanceof z.ZodUnion)
    return value === undefined || d.chance(share) ? walk(d.pick(schema.options), undefined, at) : value
  if (schema instanceof z.ZodArray) {
    const rows = Array.isArray(value)
      ? value
      : Array.from({ length: key === 'power' ? 81 : key === 'ultraviolet' ? 16 : ROWS })
    return rows.map((row) => walk(schema.element, row, { ...at, key: '' }))
  }
  if (schema instanceof z.ZodObject)
    return Object.fromEntries(
      Object.entries(schema.shape).flatMap(([name, next]) => {
        const made = walk(next, (value as Record<string, unknown> | undefined)?.[name], { ...at, key: name })
        return made === undefined ? [] : [[name, made]]
      }),
    )
  if (schema instanceof z.ZodTuple) return value ?? schema.def.items.map((item) => walk(item, undefined, at))
  if (schema instanceof z.ZodRecord) return value
  return value ?? 'x'
}

const isKind = (option: z.ZodObject, discriminator: string, value: unknown): boolean => {
  const literal = option.shape[discriminator]
  return (
    literal instanceof z.ZodLiteral && literal.value === (value as Record<string, unknown> | undefined)?.[discriminator]
  )
}

function numberOf(schema: z.ZodNumber, d: Dice): number {
  const limit = (x: number | null, otherwise: number) =>
    x === null || Math.abs(x) > HUGE || Math.abs(x) === Number.MAX_SAFE_INTEGER ? otherwise : x
  const min = limit(schema.minValue, -HUGE)
  const max = limit(schema.maxValue, HUGE)
  const even = min + (max / 2 - min / 2) * 2 * d.between(0, 1)
  const low = min + Math.min(max - min, 1e-300)
  const first = Math.max(min, 1e-6)
  const byScale = min >= 0 ? Math.exp(d.between(Math.log(first), Math.log(Math.max(first, max)))) : even
  const x = d.pick([min, max, even, byScale, byScale, low, Math.min(max, Math.max(min, 0))])
  return schema.isInt ? Math.round(x) : Math.min(max, Math.max(min, x))
}

/** Columns that must rise do, rows are as long as their table, the lens stands before the tunnel. */
function fitted(lamp: Lamp, d: Dice): Lamp {
  for (const e of lamp.emitterTypes) {
    e.forward = rising(e.forward, 'currentA')
    e.fluxByCurrent = rising(e.fluxByCurrent, 'currentA')
    e.fluxByJunction = rising(e.fluxByJunction, 'junctionC')
    if (e.forwardByJunction) e.forwardByJunction = rising(e.forwardByJunction, 'junctionC')
    const p = e.profile
    if (p.kind === 'table' || p.kind === 'map') {
      p.thetaDeg = up(p.thetaDeg)
      const cut = (row: number[]) => p.thetaDeg.map((_, i) => row[i] ?? 1)
      if (p.kind === 'table') p.intensity = cut(p.intensity)
      else {
        p.phiDeg = up(p.phiDeg)
        p.intensity = p.phiDeg.map((_, i) => cut(p.intensity[i] ?? [1]))
      }
    }
  }
  const { tunnel, lens, cooling, power } = lamp
  fitOutlines(lamp, d)
  if (lens) fitMaterial(lens, d)
  if (cooling?.air.kind === 'fan') {
    const rows = rising(cooling.air.curve, 'flowM3h')
    const falls = rows.map((r) => r.pascal).sort((a, b) => b - a)
    cooling.air.curve = rows.map((r, i) => ({ ...r, pascal: falls[i]! }))
  }
  for (const x of power?.drivers ?? []) if (x.inputMinV >= x.inputMaxV) [x.inputMinV, x.inputMaxV] = [0.5, 1000]
  if (tunnel && tunnel.zOutMm <= tunnel.zInMm) tunnel.zInMm = 0
  if (lens && d.chance(0.8))
    lens.zMm = Math.min(
      10_000,
      (tunnel?.zOutMm ?? 0) +
        d.pick([0.01, 1, 30, 600]) +
        lens.zMm * 0.001 +
        ('thicknessMm' in lens ? lens.thicknessMm : 0) +
        ('pitchMm' in lens ? 2 * lens.pitchMm : 0),
    )
  return lamp
}

/** Sizes and corners where the shape has them, and only there; corners round about a middle that need not be the axis. */
function fitOutlines({ face, boardTypes }: Lamp, d: Dice): void {
  const about = (half: number): [number, number][] => {
    const [x, y] = [d.pick([0, half, -3 * half]), d.pick([0, half])]
    const n = d.pick([3, 4, 7, 400])
    return Array.from({ length: n }, (_, i) => {
      const [r, at] = [half * (i % 2 === 1 && n > 4 ? 0.6 : 1), (2 * Math.PI * (i + 0.2)) / n]
      return [x + r * Math.cos(at), y + r * Math.sin(at)]
    })
  }
  if (face.shape === 'rectangle') face.heightMm ??= d.pick([1, 50, 2000])
  else delete face.heightMm
  if (face.shape === 'polygon') Object.assign(face, polygonFace(about(d.pick([5, 100, 200]))))
  else delete face.corners
  for (const { outline } of boardTypes) if (outline.shape === 'polygon') outline.corners = about(d.pick([2, 30, 200]))
}

/** An own material that light can be traced with, where the lens names one. */
function fitMaterial(lens: NonNullable<Lamp['lens']>, d: Dice): void {
  if (lens.kind === 'ideal') return
  const own = lens.ownMaterial
  if (own) {
    if (own.index.by === 'table') own.index.rows = rising(own.index.rows, 'wavelengthNm')
    if (own.absorption.by !== 'value')
      own.absorption.rows = rising<'wavelengthNm', never>(own.absorption.rows as never, 'wavelengthNm')
    if (findLensMaterialFaults({ ...lens, focalMm: 10_000 } as typeof lens).length > 0)
      own.index = { by: 'abbe', nd: d.between(1.36, 2.1), abbe: d.pick([30, 60, 120]) }
    return
  }
  if (lens.material === 'own') lens.material = 'pmma'
  if (lens.kind === 'fresnel' && lens.cutFor === 'own') delete lens.cutFor
}

const up = (xs: readonly number[]): number[] => [...new Set(xs)].sort((a, b) => a - b)
function rising<K extends string, T extends Record<K, number>>(rows: readonly T[], key: K): T[] {
  const sorted = [...rows].sort((a, b) => a[key] - b[key])
  return sorted.filter((r, i) => i === 0 || r[key] > sorted[i - 1]![key])
}
