import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components'
import type { FigureName, GridMap, HotSpotName, Sheet } from '../../job/sheet.ts'
import { showFigure, showValue } from '../measure/format.ts'
import { onUnrolledWall } from '../measure/gridMap.ts'
import { MapPicture, type Ring } from './MapPicture.tsx'

interface Choice {
  id: string
  tab: string
  about: string
  map: GridMap | null
  absent: string
  acrossWords: string
  upWords: string
  rings: Ring[]
  evenness?: [FigureName, FigureName]
}

function hotRing(sheet: Sheet, name: HotSpotName, map: GridMap | null): Ring[] {
  const spot = sheet.hotSpots[name]
  if (!spot || !map) return []
  const p = name === 'wall' ? onUnrolledWall(map, spot) : { x: spot.xMm, y: spot.yMm }
  return [{ ...p, radius: spot.discMm / 2, words: showValue(spot.kWm2, 'kW/m²'), kind: 'hot' }]
}

function angleRings(sheet: Sheet): Ring[] {
  const { beamAngleDeg: beam, fieldAngleDeg: field } = sheet.figures
  const reach = sheet.directionMap.toX
  return [
    { word: 'beam', figure: beam },
    { word: 'field', figure: field },
  ].flatMap(({ word, figure }) =>
    figure && figure.value / 2 < reach
      ? [
          {
            x: 0,
            y: 0,
            radius: figure.value / 2,
            words: `${word} ${showValue(figure.value, 'deg')}`,
            kind: 'angle' as const,
          },
        ]
      : [],
  )
}

function choices(sheet: Sheet): Choice[] {
  const mm = { acrossWords: 'x, mm', upWords: 'y, mm' }
  return [
    {
      id: 'direction',
      tab: 'Direction',
      about: 'Intensity over direction near the axis, seen from the target looking back.',
      map: sheet.directionMap,
      absent: '',
      acrossWords: 'angle along x, °',
      upWords: 'angle along y, °',
      rings: angleRings(sheet),
    },
    {
      id: 'target',
      tab: 'Target',
      about: 'Illuminance on the target at its distance, seen from the target looking back.',
      map: sheet.targetMap,
      absent: '',
      acrossWords: 'x, m',
      upWords: 'y, m',
      rings: [],
    },
    {
      id: 'lens',
      tab: 'Lens',
      about: 'Irradiance arriving on the front plane of the lens, seen from the target.',
      map: sheet.lensMap,
      absent: sheet.absent.lens ?? 'the lamp has no lens',
      ...mm,
      rings: hotRing(sheet, 'lens', sheet.lensMap),
      evenness: ['lensEvenness', 'lensVariation'],
    },
    {
      id: 'wall',
      tab: 'Wall',
      about: 'Irradiance on the tunnel wall, unrolled. The foot is the end at the face.',
      map: sheet.wallMap,
      absent: sheet.absent.wall ?? 'the lamp has no tunnel',
      acrossWords: 'way round at mid radius, mm from +x',
      upWords: 'z, mm',
      rings: hotRing(sheet, 'wall', sheet.wallMap),
    },
    {
      id: 'face',
      tab: 'Face',
      about: 'Irradiance of the light that comes back to the face, seen from the target.',
      map: sheet.faceMap,
      absent: sheet.absent.face ?? 'nothing comes back',
      ...mm,
      rings: hotRing(sheet, 'face', sheet.faceMap),
      evenness: ['faceEvenness', 'faceVariation'],
    },
  ]
}

/** All five are kept drawn, so that print can show them all. */
export function Maps({ sheet, widthPx }: { sheet: Sheet; widthPx: number }) {
  const all = choices(sheet)
  return (
    <Tabs className="sheet-maps">
      <TabList aria-label="Map of" className="sheet-tabs">
        {all.map((c) => (
          <Tab key={c.id} id={c.id} className="sheet-tab">
            {c.tab}
          </Tab>
        ))}
      </TabList>
      {all.map((c) => (
        <TabPanel key={c.id} id={c.id} shouldForceMount className="sheet-tabpanel">
          <p className="sheet-map-about">{c.about}</p>
          {c.map ? (
            <MapPicture
              id={c.id}
              map={c.map}
              widthPx={widthPx}
              acrossWords={c.acrossWords}
              upWords={c.upWords}
              rings={c.rings}
              about={c.about}
            />
          ) : (
            <p className="sheet-absent">None: {c.absent}</p>
          )}
          {c.evenness && <Evenness sheet={sheet} names={c.evenness} />}
        </TabPanel>
      ))}
    </Tabs>
  )
}

function Evenness({ sheet, names }: { sheet: Sheet; names: [FigureName, FigureName] }) {
  const [even, variation] = names.map((n) => sheet.figures[n])
  if (!even || !variation) return null
  return (
    <p className="sheet-evenness">
      <span>Evenness, minimum / mean</span>
      <b>{showFigure(even, '%').text}</b>
      <span>Variation, deviation / mean</span>
      <b>{showFigure(variation, '%').text}</b>
    </p>
  )
}
