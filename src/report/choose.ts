// Text for what can be wished for and for what a search has found.
import type { WishName } from '../job/choose/figures.ts'
import type { Movable, Move, Values } from '../job/choose/moves.ts'
import type { OptimizeResult } from '../job/choose/run.ts'
import type { ParameterUnit } from '../job/sweep/labels.ts'
import { type SweptWords, sweptWords } from './sweep.ts'

export interface WishWords {
  name: string
  unit: SweptWords['unit'] | 'mm' | 'g' | '°C' | ''
  /** The end that is usually wanted. */
  wanted: 'highest' | 'lowest'
}

export function wishWords(name: WishName): WishWords {
  switch (name) {
    case 'lengthMm':
      return { name: 'Length, sink to front', unit: 'mm', wanted: 'lowest' }
    case 'widthMm':
      return { name: 'Width', unit: 'mm', wanted: 'lowest' }
    case 'massG':
      return { name: 'Mass, as far as it is known', unit: 'g', wanted: 'lowest' }
    case 'junctionC':
      return { name: 'Hottest junction of any mode', unit: '°C', wanted: 'lowest' }
    case 'severeFindings':
      return { name: 'Severe findings', unit: '', wanted: 'lowest' }
    default:
      return sweptWords(name)
  }
}

export interface MoveRow {
  path: string
  /** "Lens: stands at z". */
  words: string
  unit: ParameterUnit
  value: number | string
  /** As the lamp stands. */
  now: number | string | null
}

const small = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1)

/** What moves, with its value and the lamp's own; choices by the names of their options. */
export function moveRows({ numbers, choices }: Movable, moves: readonly Move[], values: Values): MoveRow[] {
  return moves.map((move, i) => {
    const value = values[i] ?? ''
    if (move.kind === 'number') {
      const p = numbers.find((q) => q.path === move.path)
      const words = p ? `${p.part}: ${small(p.label)}` : move.path
      return { path: move.path, words, unit: p?.unit ?? '', value, now: p?.value ?? null }
    }
    const c = choices.find((d) => d.path === move.path)
    const nameOf = (key: unknown) => c?.options.find((o) => o.key === key)?.name ?? String(key)
    const now = c?.value === null || c === undefined ? null : nameOf(c.value)
    return {
      path: move.path,
      words: c ? `${c.part}: ${small(c.label)}` : move.path,
      unit: '',
      value: nameOf(value),
      now,
    }
  })
}

/** Of the lamps tried: a better one that came after this share of them came late. */
const LATE = 0.7

/** True where more lamps may well find a better one: the last better one came late, and the search ended because its lamps were used up. */
export const isUnsettled = ({ end, done, history }: Pick<OptimizeResult, 'end' | 'done' | 'history'>): boolean =>
  end === 'evaluations' && (history.at(-1)?.after ?? 0) > LATE * done

export const UNSETTLED = 'It was still getting better when its lamps were used up: try more of them.'
