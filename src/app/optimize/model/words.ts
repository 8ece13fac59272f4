// What a search says: where it stands, what it has found, how far that is known.
import type { WishName } from '../../../job/choose/figures.ts'
import type { OptimizePlan } from '../../../job/choose/plan.ts'
import type { OptimizeProgress, OptimizeResult } from '../../../job/choose/run.ts'
import { wishWords } from '../../../report/choose.ts'
import type { Figure } from '../../../run/figure.ts'
import { type DisplayUnit, formatFigure, toDigits } from '../../common/format.ts'

const PLAIN: ReadonlySet<string> = new Set(['g', '°C', ''])

/** "7.38 ± 0.03 Mcd", "1043 mm". */
export function wishText(name: WishName, figure: Figure | undefined): string {
  if (!figure) return '–'
  const { unit } = wishWords(name)
  if (PLAIN.has(unit)) return `${toDigits(figure.value, 4)} ${unit}`.trim()
  const text = formatFigure(figure, unit as DisplayUnit).text
  // Sizes and masses are worked out, not traced: there is nothing to be exact against.
  return text.replace(' (exact)', '')
}

export function stateWords(state: string, progress: OptimizeProgress | null, why: string, known = 0): string {
  const { done = 0, all = 0, stage = 'search' } = progress ?? {}
  switch (state) {
    case 'waiting':
      return 'Waits for the lamp’s own first figures'
    case 'running':
      return `${stage === 'check' ? `Checks the best: ${done} of ${all}` : `${done} of ${all} lamps tried`}${why && `. ${why}`}`
    case 'done':
      return `${done} lamps tried`
    case 'stopped':
      return `Stopped after ${done} lamps. Search goes on from there.`
    case 'failed':
      return `Failed: ${why}`
    default:
      return why || (known > 0 ? `${known} traces are kept from before: Search goes on with them.` : '')
  }
}

/** What was gained against the lamp as it stands, and how sure that is. */
export function gainWords({ wants }: OptimizePlan, { confirmation }: OptimizeResult): string {
  const [want] = wants
  const own = confirmation?.own
  if (!want || !own) return 'The lamp as it stands could not be compared.'
  const by = wishText(want.figure, { value: Math.abs(own.behind.value), se: own.behind.se })
  if (own.alike) return 'No better than the lamp as it stands: the difference is within the noise.'
  const word = want.aim === 'most' ? 'more' : want.aim === 'least' ? 'less' : 'nearer to what is wanted'
  if (own.behind.value < 0)
    return `The lamp as it stands has ${by} more of what is wanted, but ${own.keeps ? 'lies outside the bounds of this search' : 'does not keep the limits'}.`
  return `${by} ${word} than the lamp as it stands${own.keeps ? '' : ', which does not keep the limits'}.`
}
