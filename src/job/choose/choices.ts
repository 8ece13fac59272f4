// What of a lamp is no number but one of several: which optic, how many rings of boards, how they lie, what the tunnel is lined with, the lens's material.
import { isRectangle } from '../../lamp/assembly.ts'
import { BUILT_IN_MATERIALS } from '../../lamp/material.ts'
import type { Board, Lamp, Tunnel } from '../../lamp/schema.ts'
import { fillFace } from '../../layout/fill.ts'
import { finishById, WALL_FINISHES, withFinish } from '../../library/wallFinishes.ts'

export interface Choice {
  /** As on the command line. */
  path: string
  /** The part it belongs to, as the parts column calls it. */
  part: string
  label: string
  options: readonly { key: string; name: string }[]
  /** As the lamp stands; null: none of the options. */
  value: string | null
  write(lamp: Lamp, key: string): Lamp
}

/** Those with at least two options. */
export const choicesOf = (lamp: Lamp): Choice[] =>
  [opticChoice(lamp), ringChoice(lamp), patternChoice(lamp), ...tunnelChoices(lamp), ...lensChoices(lamp)].filter(
    (choice) => choice.options.length > 1,
  )

const opticChoice = (lamp: Lamp): Choice => ({
  path: 'optic',
  part: 'Optics',
  label: 'Optic of every emitter without its own',
  options: lamp.opticTypes.map(({ id, name }) => ({ key: id, name: name || id })),
  value: lamp.optic,
  write: (to, key) => ({ ...to, optic: key }),
})

/** Radii a tenth of a millimetre apart are the same ring. */
const radiusOf = ({ xMm, yMm }: { xMm: number; yMm: number }): number => Math.round(10 * Math.hypot(xMm, yMm)) / 10

/** The boards that are there, without those of the outer rings. */
function ringChoice(lamp: Lamp): Choice {
  const radii = [...new Set(lamp.boards.map(radiusOf))].sort((a, b) => a - b)
  const inside = (most: number) => lamp.boards.filter((b) => radiusOf(b) <= most)
  return {
    path: 'boards.rings',
    part: 'Boards',
    label: 'Rings from the middle',
    options: radii.map((radius, i) => {
      const count = inside(radius).length
      return { key: String(i + 1), name: `${i + 1} (${count} ${count === 1 ? 'board' : 'boards'})` }
    }),
    value: String(radii.length),
    write: (to, key) => {
      const most = radii[Number(key) - 1] ?? Number.POSITIVE_INFINITY
      return { ...to, boards: to.boards.filter((b) => radiusOf(b) <= most) }
    },
  }
}

const PATTERNS = ['hexagonal', 'square'] as const
type Pattern = (typeof PATTERNS)[number]

/** As many as the face holds with the gaps that it asks for, all of the first one's type and at its current. Boards that differ, or are tilted, stay. */
function patternChoice(lamp: Lamp): Choice {
  const [first] = lamp.boards
  const isPlain = ({ type, wedge, aim, siteAims }: Board) =>
    type === first?.type && !wedge?.tiltDeg && aim === undefined && siteAims === undefined
  const names = [
    { key: 'drawn', name: 'as drawn' },
    { key: 'hexagonal', name: 'face filled, hexagonal' },
    { key: 'square', name: 'face filled, square' },
  ]
  return {
    path: 'boards.pattern',
    part: 'Boards',
    label: 'How they lie',
    options: lamp.boards.length > 1 && lamp.boards.every(isPlain) ? names : [],
    value: 'drawn',
    write: (to, key) => {
      const pattern = PATTERNS.find((p) => p === key)
      return pattern ? { ...to, boards: filledWith(to, pattern) } : to
    },
  }
}

const MOST_FILLS = 4
const fills = new Map<string, Board[]>()

/** Tenths of a second, and the same for most lamps of a search: the last few are kept. */
function filledWith({ boards, ...lamp }: Lamp, pattern: Pattern): Board[] {
  const [first] = boards
  if (!first) return []
  const { face, boardTypes } = lamp
  const key = JSON.stringify([pattern, face, boardTypes, first.type, first.currentA])
  const known = fills.get(key)
  if (known) return known
  const { clearanceMm, marginMm } = face
  const options = { boardType: first.type, pattern, clearanceMm, marginMm, currentA: first.currentA }
  const made = fillFace({ ...lamp, boards: [] }, options).boards
  fills.set(key, made)
  for (const old of fills.keys()) if (fills.size > MOST_FILLS) fills.delete(old)
  return made
}

const SIDES = [0, 4, 6, 8, 12]

function tunnelChoices({ tunnel }: Lamp): Choice[] {
  if (!tunnel) return []
  const change = (edit: (t: Tunnel, key: string) => Tunnel) => (to: Lamp, key: string) =>
    to.tunnel ? { ...to, tunnel: edit(to.tunnel, key) } : to
  const finish: Choice = {
    path: 'tunnel.finish',
    part: 'Tunnel',
    label: 'Lined with',
    options: tunnel.joints?.length ? [] : WALL_FINISHES.map(({ id, name }) => ({ key: id, name })),
    value: WALL_FINISHES.find(({ name }) => name === tunnel.finish)?.id ?? null,
    write: change((t, key) => withFinish(t, finishById(key))),
  }
  const sides: Choice = {
    path: 'tunnel.section',
    part: 'Tunnel',
    label: 'Cross-section',
    options: isRectangle(tunnel)
      ? []
      : SIDES.map((n) => ({ key: n === 0 ? 'round' : String(n), name: n === 0 ? 'round' : `${n} sides` })),
    value: tunnel.sides === 0 ? 'round' : SIDES.includes(tunnel.sides) ? String(tunnel.sides) : null,
    write: change((t, key) => ({ ...t, sides: key === 'round' ? 0 : Number(key) })),
  }
  return [sides, finish]
}

const FACING = [
  { key: 'target', name: 'to the target' },
  { key: 'source', name: 'to the emitters' },
] as const

function lensChoices({ lens }: Lamp): Choice[] {
  if (!lens) return []
  const there: Choice = {
    path: 'lens',
    part: 'Lens',
    label: 'With a lens',
    options: [
      { key: 'with', name: 'with it' },
      { key: 'without', name: 'without it' },
    ],
    value: 'with',
    write: (to, key) => (key === 'without' ? { ...to, lens: null } : to),
  }
  if (lens.kind === 'ideal') return [there]
  const material: Choice = {
    path: 'lens.material',
    part: 'Lens',
    label: 'Material',
    options: BUILT_IN_MATERIALS.map((key) => ({ key, name: key })),
    value: lens.material === 'own' ? null : lens.material,
    write: (to, key) => {
      const known = BUILT_IN_MATERIALS.find((m) => m === key)
      return known && to.lens && to.lens.kind !== 'ideal' ? { ...to, lens: { ...to.lens, material: known } } : to
    },
  }
  const facing: Choice = {
    path: lens.kind === 'fresnel' ? 'lens.grooves' : 'lens.curved',
    part: 'Lens',
    label: lens.kind === 'fresnel' ? 'Grooves' : 'Curved side',
    options: FACING,
    value: lens.kind === 'fresnel' ? lens.grooves : lens.curved,
    write: (to, key) => {
      const side = key === 'source' ? ('source' as const) : ('target' as const)
      if (to.lens?.kind === 'fresnel') return { ...to, lens: { ...to.lens, grooves: side } }
      if (to.lens?.kind === 'solid') return { ...to, lens: { ...to.lens, curved: side } }
      return to
    },
  }
  return [there, material, facing]
}
