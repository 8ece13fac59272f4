// Night's controls: target and viewpoint, eye or camera, the air, and the comparison.

import { powerOf } from '../../library/typicalPower.ts'
import { significant, trim } from '../common/lengthText.ts'
import { useStorage } from '../store/pageStorage.ts'
import { useDesign, useResult, useView, view } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { choiceWords, lampWithout } from './comparison.ts'
import { metres } from './drawMarks.ts'
import { hazeWord, VISIBILITIES_M } from './model/air.ts'
import { type StationName, TARGETS } from './model/scene.ts'
import { BRIGHTEST_ADAPTATION, cameraSettings, DARKEST_ADAPTATION, sensibleEv } from './model/tone.ts'
import { NightNote } from './NightNote.tsx'
import { currentExposure, currentScene, openLight, restingLuminance, type SceneLight } from './scene.ts'
import { type ComparisonChoice, night, useNight, useTarget } from './state.ts'

const STATIONS: readonly { key: StationName; name: string }[] = [
  { key: 'lamp', name: 'By the lamp' },
  { key: 'near', name: 'Up close' },
  { key: 'aside', name: 'From aside' },
]

export function NightBar({ save }: { save(): void }) {
  const sheet = useResult((s) => s.sheet)
  const light = sheet !== null
  return (
    <div className="ui-bar night-bar" role="toolbar" aria-label="Night">
      <SceneChoices first={sheet && openLight()} />
      <ComparisonSelect />
      <PictureButtons light={light} save={save} />
    </div>
  )
}

/** What is lit, seen from where, at which exposure, through what air. `first`: whose light sets the exposure. */
export function SceneChoices({ first }: { first: SceneLight | null }) {
  return (
    <>
      <TargetChoice />
      <StationChoice />
      <ExposureChoice first={first} />
      <HazeChoice />
    </>
  )
}

export function PictureButtons({ light, save }: { light: boolean; save(): void }) {
  const zoomed = useNight((s) => s.zoom !== 1)
  const marks = useNight((s) => s.marks)
  return (
    <span className="night-set ui-bar-end">
      <Chip on={marks} push={() => night.setState({ marks: !marks })}>
        Marks
      </Chip>
      {zoomed && (
        <button type="button" className="ui-chip" onClick={() => night.setState({ zoom: 1 })}>
          Whole picture
        </button>
      )}
      <button type="button" className="ui-chip night-push" disabled={!light} onClick={save}>
        Save picture
      </button>
      <NightNote />
    </span>
  )
}

function Chip(p: { on: boolean; push(): void; children: React.ReactNode }) {
  return (
    <button type="button" className="ui-chip" aria-pressed={p.on} onClick={p.push}>
      {p.children}
    </button>
  )
}

function TargetChoice() {
  const target = useTarget()
  return (
    <fieldset className="night-set">
      <legend className="night-hidden">What is lit</legend>
      {TARGETS.map((t) => (
        <Chip key={t.key} on={t.key === target} push={() => night.setState({ target: t.key, zoom: 1 })}>
          {t.name}
        </Chip>
      ))}
    </fieldset>
  )
}

function StationChoice() {
  const station = useNight((s) => s.station)
  return (
    <fieldset className="night-set night-parted">
      <legend className="night-hidden">Seen from</legend>
      {STATIONS.map((s) => (
        <Chip key={s.key} on={s.key === station} push={() => night.setState({ station: s.key, zoom: 1 })}>
          {s.name}
        </Chip>
      ))}
    </fieldset>
  )
}

function ExposureChoice({ first }: { first: SceneLight | null }) {
  const ev = useView((s) => s.exposureEv)
  const camera = () => {
    view.setState({ exposureEv: first ? sensibleEv(restingLuminance(first, currentScene().place)) : 0 })
  }
  return (
    <fieldset className="night-set">
      <legend className="night-hidden">Exposure</legend>
      <Chip
        on={ev === null}
        push={() => {
          view.setState({ exposureEv: null })
          night.setState({ eyeCdM2: null })
        }}
      >
        Eye
      </Chip>
      <Chip on={ev !== null} push={camera}>
        Camera
      </Chip>
      {ev === null ? <EyeSlider first={first} /> : <CameraSlider ev={ev} />}
    </fieldset>
  )
}

function CameraSlider({ ev }: { ev: number }) {
  const { words } = cameraSettings(ev)
  return (
    <label className="night-slide">
      <input
        type="range"
        min={-10}
        max={16}
        step={0.5}
        value={ev}
        aria-label="Camera exposure"
        aria-valuetext={`EV ${trim(ev, 1)}, ${words}`}
        onChange={(e) => view.setState({ exposureEv: e.currentTarget.valueAsNumber })}
      />
      <span className="night-value">
        EV {trim(ev, 1)} <small>{words}</small>
      </span>
    </label>
  )
}

/** The slider shows the eye's own adaptation until it is moved; pressing Eye again resets it. */
function EyeSlider({ first }: { first: SceneLight | null }) {
  const chosen = useNight((s) => s.eyeCdM2)
  useTarget()
  useDesign((s) => s.lamp.target)
  useNight((s) => s.visibilityM)
  useNight((s) => s.station)
  const exposure = first && currentExposure(first, currentScene().place)
  const cdM2 = chosen ?? (exposure?.kind === 'eye' ? exposure.adaptedCdM2 : 1)
  const text = `${significant(cdM2, 2)} cd/m²`
  return (
    <label className="night-slide">
      <input
        type="range"
        min={Math.log10(DARKEST_ADAPTATION)}
        max={Math.log10(BRIGHTEST_ADAPTATION)}
        step={0.1}
        value={Math.log10(cdM2)}
        aria-label="Luminance the eye has settled on"
        aria-valuetext={`${text}, ${chosen === null ? 'automatic' : 'chosen'}`}
        onChange={(e) => night.setState({ eyeCdM2: 10 ** e.currentTarget.valueAsNumber })}
      />
      <span className="night-value">
        {text} <small>{chosen === null ? 'automatic' : 'chosen'}</small>
      </span>
    </label>
  )
}

function HazeChoice() {
  const visibilityM = useNight((s) => s.visibilityM)
  const system = useUnitSystem()
  const at = Math.max(0, VISIBILITIES_M.indexOf(visibilityM))
  const words = hazeWord(visibilityM)
  const far =
    visibilityM === null
      ? ''
      : system === 'metric' && visibilityM >= 1000
        ? `${visibilityM / 1000} km`
        : metres(visibilityM, system)
  return (
    <label className="night-slide">
      <span className="night-label">Air</span>
      <input
        type="range"
        min={0}
        max={VISIBILITIES_M.length - 1}
        step={1}
        value={at}
        aria-label="Haze"
        aria-valuetext={far ? `${words}, visibility ${far}` : words}
        onChange={(e) => night.setState({ visibilityM: VISIBILITIES_M[e.currentTarget.valueAsNumber] ?? null })}
      />
      <span className="night-value">
        {words} <small>{far && `sees ${far}`}</small>
      </span>
    </label>
  )
}

const PARTS: readonly ComparisonChoice[] = ['without lens', 'without tunnel', 'bare emitters']

function ComparisonSelect() {
  const chosen = useNight((s) => s.comparison)
  const lamp = useDesign((s) => s.lamp)
  const lamps = useStorage((s) => s.lamps)
  const openId = useStorage((s) => s.openId)
  const light = useResult((s) => s.sheet !== null)
  const modes = powerOf(lamp).value.modes.map((m): ComparisonChoice => `mode ${m.id}`)
  const others = lamps.filter((l) => l.id !== openId)
  return (
    <label className="night-slide">
      <span className="night-label">Beside it</span>
      <select
        className="night-select"
        value={chosen}
        onChange={(e) => night.setState({ comparison: e.currentTarget.value as ComparisonChoice, zoom: 1 })}
      >
        <option value="none">nothing</option>
        {(light || chosen === 'snapshot') && <option value="snapshot">this lamp as it stands now</option>}
        {[...PARTS, ...modes]
          .filter((p) => p === chosen || lampWithout(lamp, p) !== null)
          .map((p) => (
            <option key={p} value={p}>
              this lamp {p === 'bare emitters' ? 'with bare emitters' : choiceWords(lamp, p)}
            </option>
          ))}
        {others.map((l) => (
          <option key={l.id} value={`lamp ${l.id}`} translate="no">
            {l.name}
          </option>
        ))}
      </select>
    </label>
  )
}
