import { type KeyboardEvent, useId, useRef, useState } from 'react'
import type { FigureName, GridMap, HotSpot, HotSpotName, Sheet } from '../../job/beam/sheet.ts'
import { isRectangle } from '../../lamp/assembly.ts'
import type { Tunnel } from '../../lamp/schema.ts'
import { HOT_SPOT_WORDS } from '../../report/figures.ts'
import type { MapFrame } from '../../run/types.ts'
import { formatFigure, formatValue } from '../common/format.ts'
import { cropGrid, goesAlongWall, positionInFrame, positionOnUnrolledWall } from '../common/gridMap.ts'
import { useDesign } from '../store/stores.ts'
import { Choice } from '../ui/Choice.tsx'
import { SheetContext, useSheet } from './contexts.ts'
import { MapPicture, type Ring } from './MapPicture.tsx'
import { WhileVisible } from './WhileVisible.tsx'
import { noneWords } from './words.ts'

interface AxisWords {
  acrossWords: string
  upWords: string
}

interface MapChoice {
  id: string
  tab: (sheet: Sheet) => string
  about: (sheet: Sheet) => string
  map: (sheet: Sheet) => GridMap | null
  absent: (sheet: Sheet) => string
  words: (sheet: Sheet, tunnel: Tunnel | null) => AxisWords
  rings: (sheet: Sheet, tunnel: Tunnel | null) => Ring[]
  evenness?: [FigureName, FigureName] | undefined
}

function hotRing(sheet: Sheet, name: HotSpotName, map: GridMap | null, tunnel: Tunnel | null = null): Ring[] {
  const spot = sheet.hotSpots[name]
  if (!spot || !map) return []
  const p = positionOnMap(sheet, name, spot, map, tunnel)
  return [{ ...p, radius: spot.discMm / 2, words: formatValue(spot.kWm2, 'kW/m²'), kind: 'hot' }]
}

function positionOnMap(sheet: Sheet, name: HotSpotName, spot: HotSpot, map: GridMap, tunnel: Tunnel | null) {
  if (name === 'wall') return positionOnUnrolledWall(map, spot, tunnel)
  if (name === 'lens' && sheet.mapped) return positionInFrame(sheet.mapped.frame, spot)
  return { x: spot.xMm, y: spot.yMm }
}

function angleRings(sheet: Sheet): Ring[] {
  const { beamAngleDeg: beam, fieldAngleDeg: field } = sheet.figures
  const reach = sheet.directionMap.toX
  const radii = [beam, field].flatMap((f) => (f ? [f.value / 2] : []))
  // Two rings nearly touch: both labels go outside.
  const closeTogether = Math.max(...radii) < 1.25 * Math.min(...radii)
  return [
    { word: 'beam', figure: beam, below: true },
    { word: 'field', figure: field, below: false },
  ].flatMap(({ word, figure, below }) =>
    figure && figure.value / 2 < reach
      ? [
          {
            x: 0,
            y: 0,
            radius: figure.value / 2,
            words: `${word} ${formatValue(figure.value, 'deg')}`,
            kind: 'angle' as const,
            below,
            labelRadius: closeTogether ? Math.max(...radii) : figure.value / 2,
          },
        ]
      : [],
  )
}

const xMm = (): AxisWords => ({ acrossWords: 'x, mm', upWords: 'y, mm' })

/** Whether the map's x and y are the lamp's own. */
const isLevel = ({ originMm, rotation }: MapFrame): boolean =>
  originMm[0] === 0 && originMm[1] === 0 && rotation.every((r, i) => r === (i % 4 === 0 ? 1 : 0))

function lensWords({ mapped }: Sheet): AxisWords {
  if (!mapped || isLevel(mapped.frame)) return xMm()
  return { acrossWords: 'along the piece’s own x, from its middle, mm', upWords: 'along its own y, mm' }
}

function lensAbout(sheet: Sheet): string {
  const { mapped } = sheet
  const of = !mapped || mapped.name === HOT_SPOT_WORDS.lens.name ? 'the lens' : `“${mapped.name}”`
  const seen = mapped && !isLevel(mapped.frame) ? 'seen square on from the side of the target' : 'seen from the target'
  return sheet.elements
    ? `Irradiance on both faces of ${of} together, ${seen}.`
    : `Irradiance arriving on the front plane of ${of}, ${seen}.`
}

/** Along the wall only where that differs from z; of a rectangle each flat has a quarter, however wide it is. */
function wallWords({ wallMap }: Sheet, tunnel: Tunnel | null): AxisWords {
  const isAlong = tunnel && wallMap && goesAlongWall(wallMap, tunnel)
  return {
    acrossWords:
      tunnel && isRectangle(tunnel)
        ? 'way round from +x, each flat a quarter, mm'
        : `way round at mid ${isAlong ? 'length' : 'radius'}, mm from +x`,
    upWords: isAlong ? 'along the wall, mm' : 'z, mm',
  }
}

const TAB_OF: Record<NonNullable<Sheet['mapped']>['kind'], string> = {
  ...{ fresnel: 'Lens', solid: 'Lens', ideal: 'Lens' },
  ...{ cover: 'Cover', diffuser: 'Film' },
}

const CHOICES: readonly MapChoice[] = [
  {
    id: 'direction',
    tab: () => 'Direction',
    about: () => 'Intensity over direction near the axis, seen from the target looking back.',
    map: (s) => cropGrid(s.directionMap, 0.9 * (s.figures.fieldAngleDeg?.value ?? 180)),
    absent: () => 'not read from this run',
    words: () => ({ acrossWords: 'angle along x, °', upWords: 'angle along y, °' }),
    rings: angleRings,
  },
  {
    id: 'target',
    tab: () => 'Target',
    about: () => 'Illuminance on the target at its distance, seen from the target looking back.',
    map: (s) => s.targetMap,
    absent: () => 'not read from this run',
    words: () => ({ acrossWords: 'x, m', upWords: 'y, m' }),
    rings: () => [],
  },
  {
    id: 'lens',
    tab: (s) => (s.mapped ? TAB_OF[s.mapped.kind] : 'Lens'),
    about: lensAbout,
    map: (s) => s.lensMap,
    absent: (s) => s.absent.lens ?? 'the lamp has no lens',
    words: lensWords,
    rings: (s) => hotRing(s, 'lens', s.lensMap),
    evenness: ['lensEvenness', 'lensVariation'],
  },
  {
    id: 'wall',
    tab: () => 'Wall',
    about: () => 'Irradiance on the tunnel wall, unrolled. The foot is the end at the face.',
    map: (s) => s.wallMap,
    absent: (s) => s.absent.wall ?? 'the lamp has no tunnel',
    words: wallWords,
    rings: (s, tunnel) => hotRing(s, 'wall', s.wallMap, tunnel),
  },
  {
    id: 'face',
    tab: () => 'Face',
    about: () => 'Irradiance of the light that comes back to the face, seen from the target.',
    map: (s) => s.faceMap,
    absent: (s) => s.absent.face ?? 'nothing comes back',
    words: xMm,
    rings: (s) => hotRing(s, 'face', s.faceMap),
    evenness: ['faceEvenness', 'faceVariation'],
  },
]

/** Keys of the ARIA practices for tabs (W3C): arrows wrap around, Home and End go to the ends; the focused tab is shown. */
const STEP: Record<string, (at: number, n: number) => number> = {
  ArrowRight: (at, n) => (at + 1) % n,
  ArrowLeft: (at, n) => (at + n - 1) % n,
  Home: () => 0,
  End: (_, n) => n - 1,
}

/**
 * All five maps stay rendered, so that all of them can be printed. Written out, since a library's tab panel recalculates the style and
 * layout of its whole content whenever text in it changes.
 */
export function Maps() {
  const [chosen, choose] = useState(0)
  const list = useRef<HTMLDivElement>(null)
  const id = useId()
  const onKeyDown = (event: KeyboardEvent) => {
    const step = STEP[event.key]
    if (!step || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    const next = step(chosen, CHOICES.length)
    choose(next)
    list.current?.querySelectorAll<HTMLElement>('[role=tab]')[next]?.focus()
  }
  return (
    <div className="sheet-maps">
      <div ref={list} role="tablist" aria-label="Map of" className="sheet-tabs">
        {CHOICES.map((c, i) => (
          <button
            key={c.id}
            type="button"
            role="tab"
            id={`${id}-tab-${c.id}`}
            className="sheet-tab"
            aria-selected={i === chosen}
            aria-controls={`${id}-${c.id}`}
            tabIndex={i === chosen ? 0 : -1}
            onClick={() => choose(i)}
            onKeyDown={onKeyDown}
          >
            <TabName choice={c} />
          </button>
        ))}
      </div>
      {CHOICES.map((c, i) => (
        <div
          key={c.id}
          id={`${id}-${c.id}`}
          role="tabpanel"
          aria-labelledby={`${id}-tab-${c.id}`}
          className="sheet-tabpanel"
          data-inert={i !== chosen || undefined}
          inert={i !== chosen}
        >
          {c.id === 'lens' ? (
            <ElementMap choice={c} />
          ) : (
            <>
              <About choice={c} />
              <WhileVisible>
                <ChosenMap choice={c} />
              </WhileVisible>
            </>
          )}
        </div>
      ))}
    </div>
  )
}

const TabName = ({ choice }: { choice: MapChoice }) => choice.tab(useSheet().sheet)
const About = ({ choice }: { choice: MapChoice }) => <p className="sheet-map-about">{choice.about(useSheet().sheet)}</p>

/** The sheet as if the map of the lens were that of the element chosen; −1: as it is. */
function withElement(sheet: Sheet, at: number): Sheet {
  const chosen = sheet.elements?.[at]
  if (!chosen) return sheet
  const { lens: _, ...hotSpots } = sheet.hotSpots
  return {
    ...sheet,
    mapped: chosen,
    lensMap: chosen.map,
    hotSpots: chosen.spot ? { ...hotSpots, lens: chosen.spot } : hotSpots,
  }
}

/** Which element the map is of, in a row of several. */
function ElementMap({ choice: c }: { choice: MapChoice }) {
  const shown = useSheet()
  const [chosen, choose] = useState('')
  const { elements = [], mapped } = shown.sheet
  const names = [mapped?.name ?? HOT_SPOT_WORDS.lens.name, ...elements.map((e) => e.name)]
  const at = Math.min(Number(chosen), elements.length)
  const sheet = withElement(shown.sheet, at - 1)
  return (
    <>
      {elements.length > 0 && (
        <Choice
          label="Light on"
          value={String(at)}
          options={names.map((name, i) => ({ key: String(i), name }))}
          asTyped
          onChoose={choose}
        />
      )}
      <p className="sheet-map-about">{c.about(sheet)}</p>
      <WhileVisible>
        <SheetContext value={{ ...shown, sheet }}>
          <ChosenMap choice={at > 0 ? { ...c, evenness: undefined } : c} />
        </SheetContext>
      </WhileVisible>
    </>
  )
}

function ChosenMap({ choice: c }: { choice: MapChoice }) {
  const { sheet, widthPx } = useSheet()
  const tunnel = useDesign((s) => s.lamp.tunnel)
  const map = c.map(sheet)
  if (!map) return <p className="sheet-absent">{noneWords(c.absent(sheet))}</p>
  return (
    <>
      <MapPicture
        id={c.id}
        map={map}
        widthPx={widthPx}
        {...c.words(sheet, tunnel)}
        rings={c.rings(sheet, tunnel)}
        about={c.about(sheet)}
      />
      {c.evenness && <Evenness sheet={sheet} names={c.evenness} />}
    </>
  )
}

function Evenness({ sheet, names }: { sheet: Sheet; names: [FigureName, FigureName] }) {
  const [even, variation] = names.map((n) => sheet.figures[n])
  if (!even || !variation) return null
  return (
    <p className="sheet-evenness">
      <span>Evenness, minimum / mean</span>
      <b>{formatFigure(even, '%').text}</b>
      <span>Variation, deviation / mean</span>
      <b>{formatFigure(variation, '%').text}</b>
    </p>
  )
}
