// Light returned to the face: the map's scale, and how even it is.
import type { Figure } from '../../run/figure.ts'
import { formatFigure, roundUp } from '../common/format.ts'
import { peakOf } from '../common/gridMap.ts'
import { rampCss } from '../common/ramp.ts'
import { usePlan } from '../store/plan.ts'
import { useResult } from '../store/stores.ts'

export function PlanReturned() {
  const on = usePlan((s) => s.overlay === 'returned')
  return on ? <Panel /> : null
}

function Panel() {
  const map = useResult((s) => s.sheet?.faceMap)
  const stale = useResult((s) => s.marked)
  const evenness = useResult((s) => s.sheet?.figures.faceEvenness)
  const variation = useResult((s) => s.sheet?.figures.faceVariation)
  const whyEven = useResult((s) => s.sheet?.absent.faceEvenness)
  const whyVary = useResult((s) => s.sheet?.absent.faceVariation)
  if (!map) return <div className="plan-returned">No light has been traced yet.</div>
  const ramp = Array.from({ length: 9 }, (_, i) => rampCss(i / 8)).join(', ')
  return (
    <div className="plan-returned">
      <span>Back on the face{stale && ' (being traced anew)'}</span>
      <span className="plan-ramp-row">
        0 <i className="plan-ramp" style={{ background: `linear-gradient(90deg, ${ramp})` }} />{' '}
        {roundUp(peakOf(map).value)} kW/m²
      </span>
      <Reading name="Least over mean" figure={evenness} why={whyEven} />
      <Reading name="Variation" figure={variation} why={whyVary} />
    </div>
  )
}

/** Variation is the coefficient of variation: standard deviation over mean. */
function Reading({ name, figure, why }: { name: string; figure: Figure | undefined; why: string | undefined }) {
  return (
    <span title={name === 'Variation' ? 'Coefficient of variation: standard deviation over mean' : undefined}>
      {name} <b className="plan-reading">{figure ? formatFigure(figure, '%').text : (why ?? 'not known yet')}</b>
    </span>
  )
}
