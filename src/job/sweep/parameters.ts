// Every number of a lamp that can be tried over a range: found by walking the document along its schema, so that limits stand once.

import { isRectangle } from '../../lamp/assembly.ts'
import { resizedFace } from '../../lamp/facePlate.ts'
import type { Board, Lamp } from '../../lamp/schema.ts'
import { lampSchema } from '../../lamp/schema.ts'
import * as z from '../../lamp/zod.ts'
import { labelOf, type ParameterUnit, unitOfKey } from './labels.ts'

export interface Parameter {
  /** As on the command line: lens.zMm, optics.collimator-12.fwhmDeg. */
  path: string
  /** The part it belongs to, as the parts column calls it. */
  part: string
  label: string
  unit: ParameterUnit
  min: number
  max: number
  integer: boolean
  /** As the lamp stands; null: several things with different values. */
  value: number | null
  /** Of one board among many. */
  single: boolean
  write(lamp: Lamp, value: number): Lamp
}

/** A step into the document: an entry, or the row of a list that has this id. */
type Step = string | { id: string }

/** Lists whose rows have names, and what their rows are called in a path. */
const LISTS: Record<string, { path: string; part: string }> = {
  emitterTypes: { path: 'emitters', part: 'Emitter' },
  opticTypes: { path: 'optics', part: 'Optic' },
  boardTypes: { path: 'boardTypes', part: 'Board type' },
  boards: { path: 'boards', part: 'Board' },
}
/** The rest of a lamp (its name, its wiring) has no say in the beam. */
const PARTS: Record<string, string> = {
  target: 'Target',
  aimAt: 'Optics look at',
  face: 'Face',
  tunnel: 'Tunnel',
  lens: 'Lens',
  reading: 'How it is read',
  heat: 'Heat',
}

export function parametersOf(lamp: Lamp): Parameter[] {
  const found: Parameter[] = []
  for (const [key, schema] of Object.entries(lampSchema.shape)) {
    const value = lamp[key as keyof Lamp]
    const list = LISTS[key]
    if (list && schema instanceof z.ZodArray && Array.isArray(value)) {
      for (const row of value as { id: string; name?: string }[]) {
        const part = key === 'boards' ? `${list.part} ${row.id}` : `${list.part}, ${row.name || row.id}`
        walk(schema.element, row, [key, { id: row.id }], `${list.path}.${row.id}`, list.path, part)
      }
      if (key === 'emitterTypes') found.push(...currents(lamp))
    } else if (PARTS[key]) walk(schema, value, [key], key, key, PARTS[key])
  }
  const size = found.find((p) => p.path === 'face.sizeMm')
  if (size) size.write = (to, v) => ({ ...to, face: resizedFace(to.face, v) })
  // A rectangle has four sides and no others.
  const fixed = lamp.tunnel && isRectangle(lamp.tunnel) ? 'tunnel.sides' : null
  const free = found.filter((p) => p.path !== fixed)
  return [...free.filter((p) => !p.single), ...together(lamp), ...free.filter((p) => p.single)]

  function walk(schema: unknown, value: unknown, steps: Step[], path: string, kind: string, part: string): void {
    const inner = bare(schema)
    if (value === null || value === undefined || kind === 'emitters.rays') return
    if (typeof value === 'number') {
      const number = numberOf(inner)
      if (number) found.push(parameter(number, value, steps, path, kind, part))
      return
    }
    if (inner instanceof z.ZodDiscriminatedUnion) {
      for (const option of inner.options)
        if (option instanceof z.ZodObject && isKind(option, inner.def.discriminator, value))
          walk(option, value, steps, path, kind, part)
      return
    }
    if (!(inner instanceof z.ZodObject) || typeof value !== 'object') return
    for (const [key, next] of Object.entries(inner.shape))
      walk(next, (value as Record<string, unknown>)[key], [...steps, key], `${path}.${key}`, `${kind}.${key}`, part)
  }
}

function parameter(
  schema: z.ZodNumber,
  value: number,
  steps: readonly Step[],
  path: string,
  kind: string,
  part: string,
): Parameter {
  const key = String(steps.at(-1))
  return {
    path,
    part,
    label: labelOf(kind),
    unit: unitOfKey(key),
    min: schema.minValue ?? -Infinity,
    max: schema.maxValue ?? Infinity,
    integer: schema.isInt,
    value,
    single: steps[0] === 'boards',
    write: (lamp, v) => put(lamp, steps, v) as Lamp,
  }
}

/** Without the wrappers that allow nothing to stand there. */
function bare(schema: unknown): unknown {
  let at = schema
  while (at instanceof z.ZodNullable || at instanceof z.ZodOptional) at = at.unwrap()
  return at
}

/** The number of "0 or from 3 to 24": only its range can be walked along. */
function numberOf(schema: unknown): z.ZodNumber | null {
  if (schema instanceof z.ZodNumber) return schema
  if (schema instanceof z.ZodUnion) return schema.options.map(numberOf).find((n) => n !== null) ?? null
  return null
}

function isKind(option: z.ZodObject, discriminator: string, value: unknown): boolean {
  const literal = option.shape[discriminator]
  return literal instanceof z.ZodLiteral && literal.value === (value as Record<string, unknown>)[discriminator]
}

function put(at: unknown, [step, ...rest]: readonly Step[], value: number): unknown {
  if (step === undefined) return value
  if (typeof step === 'string') {
    const object = at as Record<string, unknown>
    return { ...object, [step]: put(object[step], rest, value) }
  }
  return (at as { id: string }[]).map((row) => (row.id === step.id ? put(row, rest, value) : row))
}

/** One current for all boards that carry an emitter type: it stands on the boards, but is thought of with the emitter. */
function currents(lamp: Lamp): Parameter[] {
  const schema = lampSchema.shape.boards.element.shape.currentA
  return lamp.emitterTypes.flatMap((emitter) => {
    const types = new Set(lamp.boardTypes.filter((t) => t.emitter === emitter.id).map((t) => t.id))
    const mine = (b: Board) => types.has(b.type)
    const now = lamp.boards.filter(mine).map((b) => b.currentA)
    if (now.length === 0) return []
    return {
      path: `emitters.${emitter.id}.currentA`,
      part: `Emitter, ${emitter.name || emitter.id}`,
      label: 'Current, all boards',
      unit: 'A',
      min: schema.minValue ?? 0,
      max: schema.maxValue ?? Infinity,
      integer: false,
      value: now.every((a) => a === now[0]) ? now[0]! : null,
      single: false,
      write: (to: Lamp, v: number) => ({
        ...to,
        boards: to.boards.map((b) => (mine(b) ? { ...b, currentA: v } : b)),
      }),
    } satisfies Parameter
  })
}

/** A lens alone soon runs into the tunnel that ends behind it: so the two also move as one, their gap kept. */
function together(lamp: Lamp): Parameter[] {
  const { lens, tunnel } = lamp
  if (!lens || !tunnel) return []
  const limits = lampSchema.shape.tunnel.unwrap().shape.zOutMm
  return [
    {
      path: 'lens.zMm+tunnel.zOutMm',
      part: 'Lens',
      label: 'Stands at z, with the tunnel’s end',
      unit: 'mm',
      min: Math.max(1, lens.zMm - tunnel.zOutMm + (limits.minValue ?? 0)),
      max: limits.maxValue ?? Infinity,
      integer: false,
      value: lens.zMm,
      single: false,
      write: (to, v) =>
        to.lens && to.tunnel
          ? {
              ...to,
              lens: { ...to.lens, zMm: v },
              tunnel: { ...to.tunnel, zOutMm: Number((to.tunnel.zOutMm + v - to.lens.zMm).toPrecision(12)) },
            }
          : to,
    },
  ]
}
