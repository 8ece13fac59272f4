// The plan: the heatsink's face from the front, to scale, with its tools above and the figures of the selection below.

import { useEffect, useRef } from 'react'
import { offerPicture, saveCanvases } from '../store/picture.ts'
import { usePlan } from '../store/plan.ts'
import { useView } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { createPlanCanvas } from './canvas.ts'
import { attachPointer } from './gestures/pointer.ts'
import { cornerText, outlineText } from './model/corners.ts'
import { faultsLine } from './model/faults.ts'
import { editedOutline } from './model/outlines.ts'
import { choiceText, planText } from './model/words.ts'
import { PlanFaults } from './PlanFaults.tsx'
import { PlanLegend } from './PlanLegend.tsx'
import { PlanReturned } from './PlanReturned.tsx'
import { PlanStrip } from './PlanStrip.tsx'
import { PlanTemperature } from './PlanTemperature.tsx'
import { PlanTools } from './PlanTools.tsx'
import { followPointer } from './readout.ts'
import { useSettledLamp } from './useSettledLamp.ts'
import './plan.css'

export function PlanView() {
  const still = useRef<HTMLCanvasElement>(null)
  const live = useRef<HTMLCanvasElement>(null)
  const readout = useRef<HTMLDivElement>(null)

  useEffect(() => {
    const planCanvas = createPlanCanvas(still.current!, live.current!)
    const detach = attachPointer(planCanvas)
    const unfollow = followPointer(planCanvas, readout.current!)
    const layers = [planCanvas.still, planCanvas.live]
    const withdraw = offerPicture(() => saveCanvases(layers, 'plan', 'Plan of the face, from the front'))
    return () => {
      withdraw()
      unfollow()
      detach()
      planCanvas.dispose()
    }
  }, [])

  return (
    <section className="plan" aria-label="Plan of the face">
      <PlanTools />
      <div className="plan-sheet">
        <div aria-hidden="true">
          <canvas ref={still} className="plan-still" />
        </div>
        {/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: a drawing worked by pointer and keys is what the role is for */}
        <canvas
          ref={live}
          className="plan-live"
          tabIndex={0}
          role="application"
          aria-roledescription="drawing"
          aria-label="Face from the front; arrows move the selected boards, n selects the next"
          aria-describedby="plan-in-words"
        />
        <div ref={readout} className="plan-readout" aria-hidden="true" />
        <TextAlternative />
        <Announcement />
      </div>
      <PlanReturned />
      <PlanTemperature />
      <PlanLegend />
      <PlanStrip />
      <PlanFaults />
    </section>
  )
}

/** The drawing's text alternative. */
function TextAlternative() {
  const system = useUnitSystem()
  const lamp = useSettledLamp()
  const faults = usePlan((s) => s.faults)
  const boards = useView((s) => s.boards)
  const emitters = useView((s) => s.emitters)
  const corner = usePlan((s) => s.corner)
  const outline = editedOutline(lamp, boards)
  return (
    <p id="plan-in-words" className="ui-hidden">
      {planText(lamp, faultsLine(faults), system)} {outlineText(lamp, outline)}{' '}
      {cornerText(lamp, outline, corner, system) || choiceText(lamp, boards, emitters, system)}
    </p>
  )
}

function Announcement() {
  const announcement = usePlan((s) => s.announcement)
  return (
    <div className="ui-hidden" role="status" aria-live="polite">
      {announcement}
    </div>
  )
}
