import { useEffect, useRef } from 'react'
import { describeSection } from '../common/describeSection.ts'
import { offerPicture, saveCanvases } from '../store/picture.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { attachCameraGestures } from './gestures/camera.ts'
import { Knobs } from './Knobs.tsx'
import { mountSection } from './mount.ts'
import { SectionBar, SectionFoot } from './SectionBars.tsx'
import { section } from './state.ts'
import '../ui/bar.css'
import './section.css'

export function SectionView() {
  const box = useRef<HTMLElement>(null)
  const still = useRef<HTMLCanvasElement>(null)
  const live = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    if (!box.current || !still.current || !live.current) return
    const stage = { box: box.current, still: still.current, live: live.current }
    const leave = [
      mountSection(stage),
      attachCameraGestures(box.current),
      offerPicture(() => saveCanvases([stage.still, stage.live], 'section', `Section, ${section.getState().cut} cut`)),
    ]
    return () => {
      for (const l of leave) l()
    }
  }, [])
  const system = useUnitSystem()
  const story = useDesign((s) => describeSection(s.lamp, system))
  return (
    <div className="section-view">
      <SectionBar box={box} />
      <section
        className="section-stage"
        ref={box}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the drawing is moved and zoomed by keys
        tabIndex={0}
        aria-label={story}
        aria-describedby="section-keys"
      >
        <canvas ref={still} />
        <canvas ref={live} />
        <Knobs box={box} />
        <TraceWords />
        <span id="section-keys" className="ui-hidden">
          Arrow keys move the drawing, plus and minus zoom, 0 shows the whole lamp, 9 all keep-clear outlines when they
          are drawn.
        </span>
      </section>
      <SectionFoot />
    </div>
  )
}

function TraceWords() {
  const none = useResult((s) => s.sheet === null)
  const stale = useResult((s) => s.marked)
  const trace = useResult((s) => s.trace)
  const why = useResult((s) => s.why)
  const isEmpty = useDesign((s) => s.lamp.boards.length === 0)
  const words = isEmpty
    ? 'No boards on the face yet.'
    : trace === 'failed'
      ? `The trace failed: ${why}`
      : none
        ? 'Tracing… paths and heat appear as soon as there is light.'
        : stale
          ? 'Being traced anew: paths and heat are from before the change.'
          : ''
  return (
    <p className="section-state" role="status">
      {words}
    </p>
  )
}
