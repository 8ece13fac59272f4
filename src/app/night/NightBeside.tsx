// Night for the comparison: each lamp's light in the place of the first, at one exposure; one context draws all.
import { useEffect, useRef, useState } from 'react'
import { MOST_COLUMNS } from '../../job/compare/result.ts'
import { COLUMN_LETTERS } from '../../report/compare.ts'
import { withError } from '../common/lengthText.ts'
import { type ComparedLamp, compare, useCompare } from '../store/compare.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { besideScene, lightOf } from './besideScene.ts'
import { metres } from './drawMarks.ts'
import { attachPictureGestures } from './gestures/pointer.ts'
import type { PictureSize } from './model/scene.ts'
import { type Mounted, mountNight, type Shown } from './mount.ts'
import { PictureButtons, SceneChoices } from './NightBar.tsx'
import { readingIn } from './readout.ts'
import { captionWith } from './savePicture.ts'
import { night } from './state.ts'
import '../ui/bar.css'
import './night.css'

function readings(size: PictureSize): string[] {
  const { probe } = night.getState()
  const cells = besideScene.cells(size)
  const fieldDeg = besideScene.fieldDeg()
  return besideScene.lights().map((of, i) => {
    const cell = cells[i]
    if (!probe || !of || !cell) return ''
    return readingIn(of, cell.size, probe.u * cell.size.width, probe.v * cell.size.height, fieldDeg)
  })
}

const SHOWN: Shown = {
  scene: besideScene,
  lamps: MOST_COLUMNS,
  readings,
  follow: (all) => [
    compare.subscribe((now, was) => {
      const same = now.lamps.length === was.lamps.length && now.lamps.every((l, i) => isLit(l, was.lamps[i]))
      if (!same) all()
    }),
  ],
  caption: (day) =>
    captionWith(besideScene.names().join(', '), besideScene.lights().find((l) => l !== null) ?? null, {
      day,
      isRough: false,
    }),
}

const isLit = (l: ComparedLamp, was: ComparedLamp | undefined): boolean =>
  l.key === was?.key && l.read?.light === was.read?.light

/** The place in a picture under the pointer, the same in each. */
function toProbe(box: HTMLElement, x: number, y: number): { u: number; v: number } | null {
  const cell = besideScene
    .cells({ width: box.clientWidth, height: box.clientHeight })
    .find((c) => x >= c.x && x < c.x + c.size.width && y >= c.y && y < c.y + c.size.height)
  return cell ? { u: (x - cell.x) / cell.size.width, v: (y - cell.y) / cell.size.height } : null
}

export function NightBeside() {
  const box = useRef<HTMLElement>(null)
  const picture = useRef<HTMLCanvasElement>(null)
  const marks = useRef<HTMLCanvasElement>(null)
  const foot = useRef<HTMLTableSectionElement>(null)
  const mounted = useRef<Mounted | null>(null)
  const [able, setAble] = useState(true)
  const all = useCompare((s) => s.lamps)
  const first = all[0] ? lightOf(all[0]) : null
  useEffect(() => {
    if (!box.current || !picture.current || !marks.current || !foot.current) return
    const [stage, table] = [box.current, foot.current]
    const here = () => table.querySelectorAll<HTMLElement>('.night-here')
    mounted.current = mountNight({ box: stage, picture: picture.current, marks: marks.current, here }, SHOWN)
    if (!mounted.current) {
      setAble(false)
      return
    }
    const off = attachPictureGestures(stage, (x, y) => toProbe(stage, x, y))
    return () => {
      off()
      mounted.current?.leave()
      mounted.current = null
    }
  }, [])
  return (
    <div className="night-view night-beside">
      <div className="ui-bar night-bar" role="toolbar" aria-label="Night of all lamps">
        <SceneChoices first={first} />
        <PictureButtons light={first !== null} save={() => mounted.current?.save()} />
      </div>
      <section
        ref={box}
        className="night-stage"
        data-theme="dark"
        aria-label={`Night: what each lamp lights, at one exposure: ${all.map((l, i) => `${COLUMN_LETTERS[i]} ${l.name}`).join(', ')}`}
        aria-describedby="night-beside-keys"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the place read off is moved by keys
        tabIndex={0}
      >
        <canvas ref={picture} />
        <canvas ref={marks} />
        {!able && <p className="night-words">This browser gives the page no WebGL 2, so the night can’t be drawn.</p>}
        <span id="night-beside-keys" className="night-hidden">
          Arrow keys move the place where illuminance is read off, in every picture alike; plus and minus zoom.
        </span>
      </section>
      <Foot lamps={all} rows={foot} />
    </div>
  )
}

function Foot({
  lamps,
  rows,
}: {
  lamps: readonly ComparedLamp[]
  rows: React.RefObject<HTMLTableSectionElement | null>
}) {
  const system = useUnitSystem()
  const distanceM = useDesign((s) => s.lamp.target.distanceM)
  return (
    <footer className="night-foot">
      <table className="night-lux">
        <thead>
          <tr>
            <th scope="col">Lamp</th>
            <th scope="col">Centre at {metres(distanceM, system)}</th>
            <th scope="col">Where you point</th>
          </tr>
        </thead>
        <tbody ref={rows}>
          {lamps.map((l, i) => (
            <tr key={l.key}>
              <th scope="row">
                {COLUMN_LETTERS[i]} <span translate="no">{l.name}</span>
              </th>
              <td>{centreWords(l, distanceM)}</td>
              <td className="night-here" />
            </tr>
          ))}
        </tbody>
      </table>
      <p className="night-assumptions">
        All stand in A’s place and light its target. {exposureRule} Nothing else shines. An estimate for planning.
      </p>
    </footer>
  )
}

const exposureRule = 'One exposure for all: that of A, or the one that you choose.'

/**
 * Lux square to the beam, with ±: as on the lamp's sheet where its own target is as far, else by its axial intensity and the distance, from
 * where the inverse-square law holds.
 */
function centreWords({ lamp, read }: ComparedLamp, distanceM: number): string {
  const figures = read?.light.figures
  const own = lamp.target.distanceM === distanceM ? figures?.targetCentreLx : undefined
  if (own) return `${withError(own.value, own.se)} lx`
  const cd = figures?.axialIntensityCd
  if (!cd) return '–'
  const isNear = distanceM < (figures?.inverseSquareFromM?.value ?? 0)
  return isNear ? 'not known so near' : `${withError(cd.value / distanceM ** 2, cd.se / distanceM ** 2)} lx`
}
