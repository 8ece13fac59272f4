import { Fragment, useEffect, useRef, useState } from 'react'
import { useStore } from 'zustand'
import { significant, withError } from '../common/lengthText.ts'
import { offerPicture } from '../store/picture.ts'
import { result, useDesign, useResult } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { comparison, followComparison } from './comparison.ts'
import { metres } from './drawMarks.ts'
import { attachPictureGestures } from './gestures/pointer.ts'
import { extinctionPerM } from './model/air.ts'
import { colourWords, lightColour } from './model/colour.ts'
import { litWidthM, REACH_LEVELS, reachM } from './model/reach.ts'
import { placeOf, type TargetKind } from './model/scene.ts'
import { type Mounted, mountNight, type Shown } from './mount.ts'
import { NightBar } from './NightBar.tsx'
import { currentReading } from './readout.ts'
import { captionOf } from './savePicture.ts'
import { splitScene } from './split.ts'
import { useNight, useTarget } from './state.ts'
import '../ui/bar.css'
import './night.css'

const STORY: Record<TargetKind, string> = {
  wall: 'a wall and the ground before it',
  person: 'a standing person and the ground',
  boat: 'a kayak on the water',
  field: 'a mown field from above its edge',
}

const SHOWN: Shown = {
  scene: splitScene,
  lamps: 2,
  readings: (size) => [currentReading(size)],
  follow: (all) => [
    result.subscribe((now, was) => now.sheet !== was.sheet && all()),
    comparison.subscribe(all),
    followComparison(),
  ],
  caption: (day) => captionOf(day),
}

export function NightView() {
  const system = useUnitSystem()
  const box = useRef<HTMLElement>(null)
  const picture = useRef<HTMLCanvasElement>(null)
  const marks = useRef<HTMLCanvasElement>(null)
  const here = useRef<HTMLSpanElement>(null)
  const mounted = useRef<Mounted | null>(null)
  const [able, setAble] = useState(true)
  const target = useTarget()
  const name = useDesign((s) => s.lamp.name)
  const distanceM = useDesign((s) => s.lamp.target.distanceM)
  useEffect(() => {
    if (!box.current || !picture.current || !marks.current || !here.current) return
    const words = here.current
    const stage = { box: box.current, picture: picture.current, marks: marks.current, here: () => [words] }
    mounted.current = mountNight(stage, SHOWN)
    if (!mounted.current) {
      setAble(false)
      return
    }
    const offs = [attachPictureGestures(box.current), offerPicture(() => mounted.current?.save())]
    return () => {
      for (const off of offs) off()
      mounted.current?.leave()
      mounted.current = null
    }
  }, [])
  return (
    <div className="night-view">
      <NightBar save={() => mounted.current?.save()} />
      <section
        ref={box}
        className="night-stage"
        data-theme="dark"
        aria-label={`Night: what ${name} lights at ${metres(distanceM, system)}: ${STORY[target]}, by the traced intensity alone.`}
        aria-describedby="night-keys"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the place read off is moved by keys
        tabIndex={0}
      >
        <canvas ref={picture} />
        <canvas ref={marks} />
        {!able && (
          <p className="night-words">
            This browser gives the page no WebGL 2, so the night can’t be drawn. The beam sheet has its numbers.
          </p>
        )}
        <NightWords />
        <span id="night-keys" className="night-hidden">
          Arrow keys move the place where illuminance is read off; plus and minus zoom.
        </span>
      </section>
      <footer className="night-foot">
        <Centre />
        <span className="night-here" ref={here} aria-live="polite" />
        <Reach />
        <Assumptions target={target} />
      </footer>
    </div>
  )
}

function NightWords() {
  const none = useResult((s) => s.sheet === null)
  const stale = useResult((s) => s.marked)
  const failed = useResult((s) => (s.trace === 'failed' ? s.why : ''))
  const other = useStore(comparison, (s) => s.why)
  const words = failed
    ? `The trace failed: ${failed}`
    : none
      ? 'Tracing… it stays dark until there is light.'
      : stale
        ? 'Being traced anew: this is the light from before the change.'
        : other
  return (
    <p className="night-state" role="status">
      {words}
    </p>
  )
}

function Centre() {
  const value = useResult((s) => s.sheet?.figures.targetCentreLx?.value ?? null)
  const se = useResult((s) => s.sheet?.figures.targetCentreLx?.se ?? 0)
  const distanceM = useDesign((s) => s.lamp.target.distanceM)
  const perM = useNight((s) => extinctionPerM(s.visibilityM))
  if (value === null) return null
  return (
    <span className="night-centre" title="Square to the beam.">
      Centre of the target <b>{withError(value, se)} lx</b>
      {perM > 0 && `, ${significant(value * Math.exp(-perM * distanceM), 2)} lx through the haze`}
    </span>
  )
}

/** How far it is lit, and where it isn't. */
function Reach() {
  const system = useUnitSystem()
  const sheet = useResult((s) => s.sheet)
  const lamp = useDesign((s) => s.lamp)
  const visibilityM = useNight((s) => s.visibilityM)
  if (!sheet) return null
  const perM = extinctionPerM(visibilityM)
  const axialCd = sheet.figures.axialIntensityCd?.value ?? 0
  const from = sheet.figures.inverseSquareFromM?.value ?? Number.POSITIVE_INFINITY
  const rounded = (m: number) => metres(Number(m.toPrecision(2)), system)
  const reached = REACH_LEVELS.map((level) => ({ ...level, m: reachM(axialCd, perM, level.lx) })).filter(
    (l) => l.m > from,
  )
  const { distanceM } = lamp.target
  const moonlit = litWidthM(sheet, perM, distanceM, REACH_LEVELS[2].lx)
  return (
    <span className="night-reach">
      {reached.length > 0 && 'The beam is as bright as '}
      {reached.map(({ words, lx, m }, i) => (
        <Fragment key={words}>
          {i > 0 && ', '}
          {words} ({lx} lx) to <b>{rounded(m)}</b>
        </Fragment>
      ))}
      {reached.length > 0 && '. '}
      At {metres(distanceM, system)} it is darker than a full moon
      {moonlit === null ? '.' : ` from ${rounded(moonlit)} beside the middle on.`}
    </span>
  )
}

/** What the picture assumes, and its limits. */
function Assumptions({ target }: { target: TargetKind }) {
  const system = useUnitSystem()
  const law = useResult((s) => s.sheet?.figures.inverseSquareFromM?.value)
  const size = useDesign((s) => s.lamp.target)
  const lamp = useDesign((s) => s.lamp)
  const colour = useResult((s) => colourWords(lightColour(lamp, s.sheet)))
  const { lampM, distanceM } = placeOf(target, size)
  return (
    <span className="night-assumptions">
      Lamp {metres(Math.round(lampM * 10) / 10, system)} above level {target === 'boat' ? 'water' : 'ground'}, its light{' '}
      {colour}. Nothing else shines: no moon, no stars. An estimate for planning.
      {law !== undefined && distanceM < law && (
        <b className="night-doubt">
          {' '}
          The target is nearer than {metres(Number(law.toPrecision(2)), system)}, where the inverse-square law begins to
          hold: the picture is rough, the beam sheet’s target figures are not.
        </b>
      )}
    </span>
  )
}
