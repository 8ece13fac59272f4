import { lazy, Suspense, useEffect, useRef, useState } from 'react'
import { describeSection } from '../common/describeSection.ts'
import { danger, useDanger } from '../store/danger.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { attachOrbitGestures } from './gestures/orbit.ts'
import { solid, useSolid } from './state.ts'
import '../ui/bar.css'
import './solid.css'

// three is large, so it is not part of the initial bundle.
const SolidScene = lazy(() => import('./SolidScene.tsx'))

function hasWebGl2(): boolean {
  const context = document.createElement('canvas').getContext('webgl2')
  context?.getExtension('WEBGL_lose_context')?.loseContext()
  return context !== null
}

export function SolidView() {
  const stage = useRef<HTMLElement>(null)
  const [able] = useState(hasWebGl2)
  const [lost, setLost] = useState(false)
  const story = useDesign((s) => describeSection(s.lamp))
  useEffect(() => (stage.current ? attachOrbitGestures(stage.current) : undefined), [])
  return (
    <div className="solid-view">
      <SolidBar />
      <section
        ref={stage}
        className="solid-stage"
        aria-label={`The lamp in three dimensions. ${story}`}
        aria-describedby="solid-keys"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the eye is moved by keys
        tabIndex={0}
      >
        {able && !lost ? (
          <Suspense fallback={<p className="solid-words">Loading the solid view…</p>}>
            <SolidScene onLost={() => setLost(true)} />
          </Suspense>
        ) : (
          <p className="solid-words">
            This browser gives the page no WebGL 2, so the lamp can’t be drawn in three dimensions. The section shows
            the same lamp, in cut.
          </p>
        )}
        <span id="solid-keys" className="ui-hidden">
          Arrow keys turn the lamp, with shift they move it, plus and minus come nearer and go back, 0 shows the whole
          lamp.
        </span>
        <SolidWords />
      </section>
    </div>
  )
}

function SolidWords() {
  const none = useResult((s) => s.sheet === null)
  const stale = useResult((s) => s.marked)
  const failed = useResult((s) => (s.trace === 'failed' ? s.why : ''))
  const words = failed
    ? `The trace failed: ${failed}`
    : none
      ? 'Tracing… light appears as soon as there is some.'
      : stale
        ? 'Being traced anew: the light is from before the change.'
        : ''
  return (
    <p className="solid-state" role="status">
      {words}
    </p>
  )
}

function SolidBar() {
  const home = useSolid((s) => s.orbit === null)
  return (
    <div className="ui-bar" role="toolbar" aria-label="Solid view">
      <Chip name="cutAway">Cut away the near half</Chip>
      <Chip name="paths">Paths</Chip>
      <Chip name="beam">Light in air</Chip>
      <KeepClearChip />
      <button
        type="button"
        className="ui-chip ui-bar-end"
        disabled={home}
        onClick={() => solid.setState({ orbit: null })}
      >
        Whole lamp
      </button>
    </div>
  )
}

/** Shared with the Section view. */
function KeepClearChip() {
  const on = useDanger((s) => s.outlines)
  return (
    <button
      type="button"
      className="ui-chip"
      aria-pressed={on}
      title="Surfaces of the thresholds before the lamp, as listed in Dangers in full"
      onClick={() => danger.setState({ outlines: !on })}
    >
      Keep clear
    </button>
  )
}

function Chip({ name, children }: { name: 'cutAway' | 'paths' | 'beam'; children: React.ReactNode }) {
  const on = useSolid((s) => s[name])
  return (
    <button type="button" className="ui-chip" aria-pressed={on} onClick={() => solid.setState({ [name]: !on })}>
      {children}
    </button>
  )
}
