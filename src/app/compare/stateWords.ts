// How far the reading of each lamp is, in a few words under its name.
import type { DangerStage } from '../../job/danger/result.ts'
import { COLUMN_LETTERS } from '../../report/compare.ts'
import { THIN } from '../common/format.ts'
import { type ComparedLamp, nextStep } from '../store/compare.ts'

type State = Pick<ComparedLamp, 'read' | 'state' | 'stage' | 'why'>

const STAGES: Record<DangerStage, string> = {
  beam: 'dangers: the beam',
  front: 'dangers: what is in front',
  sun: 'dangers: the sun from every side',
}
const STEPS = { light: 'light', heat: 'heat', rough: 'dangers from few rays', whole: 'dangers in full' } as const

/** Empty for one that is read; for one that waits: for which, and how far that is. */
export function stateWords(l: State, all: readonly State[]): string {
  if (l.state === 'failed') return `failed: ${l.why}`
  const step = nextStep(l)
  if (step === null) return ''
  if (l.state === 'waiting') {
    const before = all.flatMap((o, i) => (o.state === 'reading' ? [`${COLUMN_LETTERS[i]}${shareOf(o)}`] : []))
    return before.length === 0 ? `${STEPS[step]}: waits` : `${STEPS[step]}: waits for ${before.join(' and ')}`
  }
  if (step === 'light' || step === 'heat' || !l.stage) return `${STEPS[step]}…`
  return `${STAGES[l.stage.name]}${step === 'rough' ? ', few rays' : ''}…${shareOf(l)}`
}

/** The search in front has no share of its own. */
const shareOf = ({ stage }: State): string =>
  stage === null || stage.name === 'front' ? '' : ` ${Math.floor(100 * stage.share)}${THIN}%`
