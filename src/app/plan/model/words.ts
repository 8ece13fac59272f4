// The plan's selection as text: the drawing's text alternative and the announcements.

import type { Board, Lamp } from '../../../lamp/schema.ts'
import { faceText, lengthWords } from '../../../report/faceText.ts'
import { middleOf } from '../../common/boardEdits.ts'
import { readEmitterKey } from '../../common/selection.ts'
import type { UnitSystem } from '../../common/unitSystem.ts'
import { numberText, valueText } from '../../common/units.ts'
import { groupOf } from './groups.ts'

const num = (v: number, digits = 2) => `${Number(v.toFixed(digits)) + 0}`.replace('-', '−')

export const placeText = (xMm: number, yMm: number, system: UnitSystem = 'metric') =>
  `x ${length(xMm, system)}, y ${length(yMm, system)}`

const length = (mm: number, system: UnitSystem) => valueText(mm, 'mm', system, 2).replace('-', '−')

function boardText(lamp: Lamp, b: Board, system: UnitSystem): string {
  const type = lamp.boardTypes.find((t) => t.id === b.type)
  const optic = b.optic && lamp.opticTypes.find((o) => o.id === b.optic)
  const own = Object.keys(b.siteOptics ?? {}).length
  return [
    `Board ${b.id}`,
    type?.name ?? b.type,
    placeText(b.xMm, b.yMm, system),
    `turned ${num(b.turnDeg)}°`,
    ...(b.heightMm ? [`${length(b.heightMm, system)} above the face`] : []),
    ...(b.wedge?.tiltDeg ? [`tilted ${num(b.wedge.tiltDeg)}°`] : []),
    `${b.currentA} A`,
    ...(optic ? [`optic ${optic.name}`] : []),
    ...(own > 0 ? [`${own} ${own === 1 ? 'emitter' : 'emitters'} with an optic of their own`] : []),
  ].join(', ')
}

export function choiceText(
  lamp: Lamp,
  boards: readonly string[],
  emitters: readonly string[],
  system: UnitSystem = 'metric',
): string {
  const [emitter] = emitters
  if (emitter !== undefined && emitters.length === 1) {
    const { boardId, siteIndex } = readEmitterKey(emitter)
    const b = lamp.boards.find((x) => x.id === boardId)
    if (!b) return 'Nothing is selected.'
    const optic = opticOf(lamp, b, siteIndex)
    const name = lamp.opticTypes.find((o) => o.id === optic)?.name ?? optic
    return `Emitter ${siteIndex + 1} of board ${boardId}, optic ${name}`
  }
  if (emitters.length > 1) {
    const on = new Set(emitters.map((k) => readEmitterKey(k).boardId)).size
    return `${emitters.length} emitters on ${on} ${on === 1 ? 'board' : 'boards'} are selected`
  }
  const wanted = new Set(boards)
  const chosen = lamp.boards.filter((b) => wanted.has(b.id))
  const [first] = chosen
  if (!first) return 'Nothing is selected.'
  if (chosen.length === 1) return boardText(lamp, first, system)
  const [x, y] = middleOf(chosen)
  return `${chosen.length} boards are selected, their middle at ${placeText(x, y, system)}`
}

/** Place, turn, current and optic of the selection, each in a word or two; empty without a selection. */
export function chosenFacts(
  lamp: Lamp,
  boards: readonly string[],
  emitters: readonly string[],
  system: UnitSystem = 'metric',
): string[] {
  const keys = emitters.map(readEmitterKey)
  const wanted = new Set(keys.length > 0 ? keys.map((k) => k.boardId) : boards)
  const chosen = lamp.boards.filter((b) => wanted.has(b.id))
  const [[first], [key]] = [chosen, keys]
  if (!first) return []
  const currents = new Set(chosen.map((b) => b.currentA))
  const optics = new Set(
    keys.length > 0
      ? keys.map((k) => opticOf(lamp, chosen.find((b) => b.id === k.boardId)!, k.siteIndex))
      : chosen.flatMap((b) => [b.optic ?? lamp.optic, ...Object.values(b.siteOptics ?? {})]),
  )
  const optic = lamp.opticTypes.find((o) => optics.has(o.id))?.name ?? ''
  const groups = new Set(lamp.power && lamp.power.groups.length > 1 ? chosen.map((b) => groupOf(lamp, b)) : [])
  const group = lamp.power?.groups.find((g) => groups.has(g.id))?.name ?? ''
  const last = [
    ...(groups.size === 0 ? [] : [groups.size === 1 ? `group ${group}` : 'several groups']),
    currents.size === 1 ? `${first.currentA} A` : 'various currents',
    optics.size === 1 ? optic : 'various optics',
  ]
  if (key && keys.length === 1) return [`Emitter ${key.siteIndex + 1} of ${key.boardId}`, ...last]
  if (keys.length > 1) return [`${keys.length} emitters`, ...last]
  const [x, y] = middleOf(chosen)
  const place = `x ${numberText(x, 'mm', system, 2)}, y ${valueText(y, 'mm', system, 2)}`.replaceAll('-', '−')
  if (chosen.length > 1) return [`${chosen.length} boards`, `middle ${place}`, ...last]
  return [`Board ${first.id}`, place, `turned ${num(first.turnDeg)}°`, ...last]
}

const opticOf = (lamp: Lamp, b: Board, siteIndex: number) => b.siteOptics?.[siteIndex] ?? b.optic ?? lamp.optic

/** The whole drawing in a sentence or two. */
export function planText(lamp: Lamp, faultsText: string, system: UnitSystem = 'metric'): string {
  const { face } = lamp
  const emitters = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  const count = lamp.boards.reduce((n, b) => n + (emitters.get(b.type) ?? 0), 0)
  const holes = face.keepOuts.length
  return [
    `${faceText(face, lengthWords(system))}, seen from the target.`,
    `${lamp.boards.length} ${lamp.boards.length === 1 ? 'board' : 'boards'} with ${count} emitters`,
    holes > 0 ? `and ${holes} ${holes === 1 ? 'keep-out' : 'keep-outs'}.` : 'and no keep-outs.',
    faultsText,
  ].join(' ')
}
