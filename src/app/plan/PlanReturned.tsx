// Light that comes back onto the face: the map's scale, and how even it is.
import type { Figure } from '../../run/figure.ts'
import { roundedUp, showFigure } from '../measure/format.ts'
import { peakOf } from '../measure/gridMap.ts'
import { rampCss } from '../measure/ramp.ts'
import { usePlan } from '../store/plan.ts'
import { useResult } from '../store/stores.ts'

export function PlanReturned() {
  const on = usePlan((s) => s.overlay === 'returned')
  return on ? <Panel /> : null
}

function Panel() {
  const map = useResult((s) => s.sheet?.faceMap)
  const stale = useResult((s) => s.stale)
  const evenness = useResult((s) => s.sheet?.figures.faceEvenness)
  const variation = useResult((s) => s.sheet?.figures.faceVariation)
  const whyEven = useResult((s) => s.sheet?.absent.faceEvenness)
  const whyVary = useResult((s) => s.sheet?.absent.faceVariation)
  if (!map) return <div className="plan-returned">No light has been traced yet.</div>
  const ramp = Array.from({ length: 9 }, (_, i) => rampCss(i / 8)).join(', ')
  return (
    <div className="plan-returned">
      <strong>Light that comes back to the face{stale ? ', being traced anew' : ''}</strong>
      <div className="plan-ramp" style={{ background: `linear-gradient(90deg, ${ramp})` }} />
      <div className="plan-ramp-ends">
        <span>0</span>
        <span>{roundedUp(peakOf(map).value)} kW/m²</span>
      </div>
      <Reading name="Least over mean" figure={evenness} why={whyEven} />
      <Reading name="Coefficient of variation" figure={variation} why={whyVary} />
    </div>
  )
}

function Reading({ name, figure, why }: { name: string; figure: Figure | undefined; why: string | undefined }) {
  return (
    <div className="plan-reading">
      <span>{name}</span>
      <span>{figure ? showFigure(figure, '%').text : (why ?? 'not known yet')}</span>
    </div>
  )
}
