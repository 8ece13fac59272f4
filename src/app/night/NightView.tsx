import { useEffect, useRef, useState } from 'react'
import { LAMP_HEIGHT_M } from '../measure/nightScene.ts'
import { adaptationTo, GROUND_REFLECTANCE, sensibleEv, WALL_REFLECTANCE } from '../measure/nightTone.ts'
import { significant, trim, withError } from '../measure/sectionWords.ts'
import { result, useDesign, useResult, useView, view } from '../store/stores.ts'
import { mountNight, targetLuminance } from './mount.ts'
import { night, useNight } from './nightState.ts'
import { handOnPicture } from './pictureHand.ts'
import './night.css'

export function NightView() {
  const box = useRef<HTMLElement>(null)
  const picture = useRef<HTMLCanvasElement>(null)
  const marks = useRef<HTMLCanvasElement>(null)
  const here = useRef<HTMLSpanElement>(null)
  const [able, setAble] = useState(true)
  const story = useDesign(
    (s) =>
      `Night: what ${s.lamp.name} lights at ${s.lamp.target.distanceM} m, a wall and the ground before it, lit by the traced intensity alone.`,
  )
  useEffect(() => {
    if (!box.current || !picture.current || !marks.current || !here.current) return
    const stage = { box: box.current, picture: picture.current, marks: marks.current, here: here.current }
    const leave = mountNight(stage)
    if (!leave) {
      setAble(false)
      return
    }
    const off = handOnPicture(box.current)
    return () => {
      off()
      leave()
    }
  }, [])
  return (
    <div className="night-view">
      <NightBar />
      <section
        ref={box}
        className="night-stage"
        aria-label={story}
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
        <Said />
      </footer>
    </div>
  )
}

function NightWords() {
  const none = useResult((s) => s.sheet === null)
  const stale = useResult((s) => s.stale)
  const failed = useResult((s) => (s.trace === 'failed' ? s.why : ''))
  const words = failed
    ? `The trace failed: ${failed}`
    : none
      ? 'Tracing… it stays dark until there is light.'
      : stale
        ? 'Being traced anew: this is the light from before the change.'
        : ''
  return (
    <p className="night-state" role="status">
      {words}
    </p>
  )
}

function NightBar() {
  const station = useNight((s) => s.station)
  const zoomed = useNight((s) => s.zoom !== 1)
  const ev = useView((s) => s.exposureEv)
  const camera = () => {
    const { sheet } = result.getState()
    view.setState({ exposureEv: sheet ? sensibleEv(targetLuminance(sheet)) : 0 })
  }
  return (
    <div className="night-bar" role="toolbar" aria-label="Night">
      <fieldset className="night-set">
        <legend className="night-hidden">Seen from</legend>
        <Chip on={station === 'lamp'} push={() => night.setState({ station: 'lamp', zoom: 1 })}>
          At the lamp
        </Chip>
        <Chip on={station === 'raised'} push={() => night.setState({ station: 'raised', zoom: 1 })}>
          High behind
        </Chip>
      </fieldset>
      <fieldset className="night-set">
        <legend className="night-hidden">Exposure</legend>
        <Chip on={ev === null} push={() => view.setState({ exposureEv: null })}>
          Eye
        </Chip>
        <Chip on={ev !== null} push={camera}>
          Camera
        </Chip>
        {ev !== null && (
          <label className="night-ev">
            <input
              type="range"
              min={-10}
              max={16}
              step={0.5}
              value={ev}
              aria-label="Camera exposure"
              aria-valuetext={`EV ${trim(ev, 1)}`}
              onChange={(e) => view.setState({ exposureEv: e.currentTarget.valueAsNumber })}
            />
            <span>EV {trim(ev, 1)}</span>
          </label>
        )}
      </fieldset>
      <button
        type="button"
        className="night-chip night-end"
        disabled={!zoomed}
        onClick={() => night.setState({ zoom: 1 })}
      >
        Whole beam
      </button>
    </div>
  )
}

function Chip(p: { on: boolean; push(): void; children: React.ReactNode }) {
  return (
    <button type="button" className="night-chip" aria-pressed={p.on} onClick={p.push}>
      {p.children}
    </button>
  )
}

function Centre() {
  const value = useResult((s) => s.sheet?.figures.targetCentreLx?.value ?? null)
  const se = useResult((s) => s.sheet?.figures.targetCentreLx?.se ?? 0)
  if (value === null) return null
  return (
    <span className="night-centre">
      Centre of the target <b>{withError(value, se)} lx</b>
    </span>
  )
}

/** What the picture assumes, and where it must not be trusted. */
function Said() {
  const sheet = useResult((s) => s.sheet)
  const ev = useView((s) => s.exposureEv)
  const distanceM = useDesign((s) => s.lamp.target.distanceM)
  if (!sheet) return null
  const law = sheet.figures.inverseSquareFromM?.value
  const tone =
    ev === null
      ? `Eye adapted to ${significant(adaptationTo(targetLuminance(sheet)), 2)} cd/m², the mean of the target; receptor response, colour not weakened.`
      : 'Camera at ISO 100: clipped at white, sRGB curve.'
  return (
    <span className="night-said">
      {tone} Lamp {LAMP_HEIGHT_M} m above level ground. Wall reflects {WALL_REFLECTANCE * 100} %, ground{' '}
      {GROUND_REFLECTANCE * 100} %.
      {law !== undefined && distanceM < law && (
        <b className="night-doubt">
          {' '}
          The target is nearer than {significant(law, 2)} m, where the inverse-square law begins to hold: the picture is
          rough, the beam sheet’s target figures are not.
        </b>
      )}
    </span>
  )
}
