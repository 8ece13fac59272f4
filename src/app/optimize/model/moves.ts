// What a search offers to move, with bounds to begin with; fields of wishes and limits.
import type { Choice } from '../../../job/choose/choices.ts'
import { WISH_FIGURES, type WishName } from '../../../job/choose/figures.ts'
import type { Movable, Move } from '../../../job/choose/moves.ts'
import type { Parameter } from '../../../job/sweep/parameters.ts'
import { wishWords } from '../../../report/choose.ts'
import { rangeAbout } from '../../common/numberRange.ts'
import { tidy, type Unit } from '../../common/units.ts'

/** Twice as wide as a range that is tried: a search pays for width with few lamps. */
export function boundsAbout(p: Parameter): Move {
  const { from, to } = rangeAbout(p, 11)
  const more = (to - from) / 2
  return {
    kind: 'number',
    path: p.path,
    min: tidy(Math.max(p.min, from - more)),
    max: tidy(Math.min(p.max, to + more)),
  }
}

export const anyOf = (c: Choice): Move => ({ kind: 'choice', path: c.path, keys: c.options.map((o) => o.key) })

const FIRST: readonly RegExp[] = [
  /^lens\.zMm\+/,
  /^lens\.zMm$/,
  /^tunnel\.outMm$/,
  /^optics\..*\.fwhmDeg$/,
  /currentA$/,
]

/** Lens and tunnel, or the optics' width. */
export function firstMoves({ numbers }: Movable): Move[] {
  const found = FIRST.map((like) => numbers.find((p) => like.test(p.path))).find((p) => p !== undefined)
  return found ? [boundsAbout(found)] : []
}

/** What can be added: numbers of single boards, and what moves already, are left out. */
export function offered(
  { numbers, choices }: Movable,
  moves: readonly Move[],
): { numbers: Parameter[]; choices: Choice[] } {
  const taken = new Set(moves.flatMap((m) => [m.path, ...m.path.split('+')]))
  const isFree = (path: string) => !path.split('+').some((part) => taken.has(part))
  return {
    numbers: numbers.filter((p) => !p.single && isFree(p.path)),
    choices: choices.filter((c) => !taken.has(c.path)),
  }
}

/** The emitted flux is what was put in. */
export const WISHES = WISH_FIGURES.filter((f) => f.name !== 'emittedLm').map(({ name }) => ({
  key: name,
  name: wishWords(name).name,
}))

export interface WishField {
  unit: Unit
  /** Behind a label, where the field itself knows no such unit. */
  suffix: string
  /** From the figure's unit to the field's. */
  by: number
  /** Where a limit begins. */
  first: number
}

export function wishField(name: WishName): WishField {
  const { unit } = wishWords(name)
  const first = FIRSTS[name] ?? (unit === '%' ? 0.5 : 10)
  if (unit === '%') return { unit: 'share', suffix: '', by: 1, first }
  if (unit === 'kW/m²') return { unit: 'W/m²', suffix: '', by: 1000, first }
  if (unit === 'cd') return { unit: '', suffix: ', cd', by: 1, first }
  return { unit, suffix: '', by: 1, first }
}

const FIRSTS: Partial<Record<WishName, number>> = {
  junctionC: 110,
  lengthMm: 1000,
  widthMm: 500,
  massG: 5000,
  axialIntensityCd: 100_000,
  peakIntensityCd: 100_000,
  fluxOutLm: 1000,
  severeFindings: 0,
}
