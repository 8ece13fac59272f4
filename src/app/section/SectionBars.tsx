// The bar above the drawing (what is shown) and the legend below it.

import { levelsOf, levelWords, outlineOf } from '../common/dangerLevels.ts'
import { FATE_GROUPS, groupOfFate, groupsOf } from '../common/fates.ts'
import { clearDistance } from '../common/format.ts'
import { significant } from '../common/lengthText.ts'
import { rampOn } from '../common/ramp.ts'
import { danger, useDanger } from '../store/danger.ts'
import { type Theme, useDisplay } from '../store/display.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { heatOf } from './drawHeat.ts'
import { zoomedAbout } from './model/frame.ts'
import { cameraOnOutlines, currentCamera, sizeOf } from './mount.ts'
import { section, useSection } from './state.ts'

export function SectionBar({ box }: { box: React.RefObject<HTMLElement | null> }) {
  const cut = useSection((s) => s.cut)
  const fitted = useSection((s) => s.camera === null)
  const zoom = (factor: number) => {
    if (!box.current) return
    const size = sizeOf(box.current)
    section.setState({ camera: zoomedAbout(currentCamera(size), size, size.width / 2, size.height / 2, factor) })
  }
  return (
    <div className="ui-bar" role="toolbar" aria-label="Section drawing">
      <fieldset className="ui-bar-set">
        <legend className="ui-hidden">Plane of the cut</legend>
        <Chip on={cut === 'upright'} push={() => section.setState({ cut: 'upright' })}>
          Upright cut
        </Chip>
        <Chip on={cut === 'level'} push={() => section.setState({ cut: 'level' })}>
          Level cut
        </Chip>
      </fieldset>
      <fieldset className="ui-bar-set">
        <legend className="ui-hidden">Shown on the drawing</legend>
        <Layer name="paths">Paths</Layer>
        <Layer name="heat">Heat</Layer>
        <Layer name="sizes">Sizes</Layer>
        <KeepClear />
      </fieldset>
      <fieldset className="ui-bar-set ui-bar-end">
        <legend className="ui-hidden">Scale</legend>
        <button type="button" className="ui-chip" aria-label="Smaller" onClick={() => zoom(0.8)}>
          −
        </button>
        <button type="button" className="ui-chip" aria-label="Larger" onClick={() => zoom(1.25)}>
          +
        </button>
        <WholeOutlines box={box} />
        <button type="button" className="ui-chip" disabled={fitted} onClick={() => section.setState({ camera: null })}>
          Whole lamp
        </button>
      </fieldset>
    </div>
  )
}

function Chip(p: { on: boolean; push(): void; children: React.ReactNode }) {
  return (
    <button type="button" className="ui-chip" aria-pressed={p.on} onClick={p.push}>
      {p.children}
    </button>
  )
}

function Layer({ name, children }: { name: 'paths' | 'heat' | 'sizes'; children: React.ReactNode }) {
  const on = useSection((s) => s[name])
  return (
    <Chip on={on} push={() => section.setState({ [name]: !on })}>
      {children}
    </Chip>
  )
}

/** The switch of the outlines, shared with the Solid view. */
function KeepClear() {
  const on = useDanger((s) => s.outlines)
  return (
    <Chip on={on} push={() => danger.setState({ outlines: !on })}>
      Keep clear
    </Chip>
  )
}

/** Fits the outlines, which mostly reach far beyond the lamp. */
function WholeOutlines({ box }: { box: React.RefObject<HTMLElement | null> }) {
  const drawn = useDanger((s) => s.outlines && s.reading !== null)
  if (!drawn) return null
  const show = () => {
    const camera = box.current && cameraOnOutlines(sizeOf(box.current))
    if (camera) section.setState({ camera })
  }
  return (
    <button type="button" className="ui-chip" title="Key 9" onClick={show}>
      Whole outlines
    </button>
  )
}

function KeepClearKey() {
  const system = useUnitSystem()
  const on = useDanger((s) => s.outlines)
  const reading = useDanger((s) => s.reading)
  const stale = useDanger((s) => s.stale)
  const failed = useDanger((s) => (s.state === 'failed' ? s.why : ''))
  if (!on) return null
  const levels = reading ? levelsOf(reading.clear) : []
  const wait = failed
    ? `The outlines failed: ${failed}`
    : !reading
      ? 'Keep clear: what is in front is being searched…'
      : stale
        ? 'Keep-clear outlines are from before the change.'
        : levels.length === 0
          ? 'Below every threshold everywhere in front.'
          : ''
  return (
    <p className="section-clear">
      {levels.map((level) => (
        <span key={level.kWm2}>
          <svg width="30" height="8" aria-hidden="true">
            <line
              x1="0"
              y1="4"
              x2="30"
              y2="4"
              stroke={level.burns ? 'var(--severe)' : 'var(--warning)'}
              strokeWidth={level.burns ? 2.2 : 1.5}
              strokeDasharray={level.dash.join(' ')}
            />
          </svg>
          {levelWords(level)} {level.burns ? 'can burn' : 'harmed'} inside: {level.kWm2} kW/m²
          {level.changed ? ' (changed)' : ''}, to {clearDistance(level.reachMm, system)}
          {reading && outlineOf(reading.volume, level.kWm2).length === 0 ? ', in a spot too small to draw' : ''}
        </span>
      ))}
      {wait && <span>{wait}</span>}
    </p>
  )
}

export function SectionFoot() {
  const theme = useDisplay((s) => s.theme)
  const hidden = useSection((s) => s.hidden)
  const paths = useSection((s) => s.paths)
  const heat = useSection((s) => s.heat)
  const count = useResult((s) => s.sheet?.paths.fate.length ?? 0)
  const can = useDesign((s) => namesOf(groupsOf(s.lamp)))
  // The groups of the current lamp, and those of the paths drawn, which may belong to the lamp before.
  const drawn = useResult((s) => namesOf([...(s.sheet?.paths.fate ?? [])].map((f) => FATE_GROUPS[groupOfFate(f)]!)))
  const shown = FATE_GROUPS.filter((g) => can.includes(g.name) || drawn.includes(g.name))
  return (
    <footer className="section-foot">
      {paths && (
        <fieldset className="section-legend">
          <legend className="ui-hidden">How paths end; a press hides or shows them</legend>
          {shown.map((g) => (
            <button
              key={g.name}
              type="button"
              className="section-key"
              aria-pressed={!hidden.includes(g.name)}
              onClick={() =>
                section.setState((s) => ({
                  hidden: s.hidden.includes(g.name) ? s.hidden.filter((h) => h !== g.name) : [...s.hidden, g.name],
                }))
              }
            >
              <svg width="30" height="8" aria-hidden="true">
                <line
                  x1="0"
                  y1="4"
                  x2="30"
                  y2="4"
                  stroke={g.colour[theme]}
                  strokeWidth="2"
                  strokeDasharray={g.dash.join(' ')}
                />
              </svg>
              {g.words}
            </button>
          ))}
        </fieldset>
      )}
      <KeepClearKey />
      <div className="section-scales">
        {paths && count > 0 && <span className="section-count">{count} traced paths</span>}
        {heat && <HeatKey />}
      </div>
    </footer>
  )
}

const namesOf = (groups: readonly { name: string }[]) => [...new Set(groups.map((g) => g.name))].sort().join(' ')

const rampIn = (theme: Theme) =>
  `linear-gradient(90deg, ${Array.from({ length: 9 }, (_, i) => rampOn(theme, i / 8)).join(', ')})`

function HeatKey() {
  const cut = useSection((s) => s.cut)
  const theme = useDisplay((s) => s.theme)
  const top = useResult((s) => (s.sheet ? heatOf(s.sheet, cut).top : null))
  if (top === null) return null
  return (
    <span
      className="section-heat"
      title="Irradiance arriving on face, wall and lens, mean over a narrow band about the cut."
    >
      0
      <span className="section-ramp" style={{ background: rampIn(theme) }} />
      {significant(top, 2)} kW/m² near the cut
    </span>
  )
}
