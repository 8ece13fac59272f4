import { FIGURE_NAMES, type Figure, type FigureName, type Sheet } from '../../job/beam/sheet.ts'
import { FIGURE_WORDS } from '../../report/figures.ts'
import { lightWords } from '../../report/light.ts'
import { showFigure, THIN, toDigits, withUnit } from '../common/format.ts'
import { useDesign } from '../store/stores.ts'
import { useShown } from './contexts.ts'
import { How } from './Part.tsx'
import { noneWords } from './words.ts'

export const HEADLINE: readonly FigureName[] = [
  'fluxOutLm',
  'efficiency',
  'axialIntensityCd',
  'peakIntensityCd',
  'beamAngleDeg',
  'fieldAngleDeg',
  'beamDistanceM',
  'targetCentreLx',
]

/** What a tile has room for. */
const TILE_DIGITS = 6

const reason = (sheet: Sheet, name: FigureName) => sheet.absent[name] ?? 'not read from this run'

/** Which light the lumens are; its door leads to where that is chosen. */
export function LightLine() {
  const { sheet } = useShown()
  return (
    <p className="sheet-light" data-mode={sheet.light.kind === 'mode' || undefined}>
      {lightWords(sheet.light)}.
    </p>
  )
}

export function Headline() {
  return (
    <div className="sheet-tiles">
      {HEADLINE.map((name) => {
        const words = FIGURE_WORDS[name]
        return (
          <How
            key={name}
            className="sheet-tile"
            name={words.short ?? words.name}
            how={words.how}
            source={words.source}
            level={3}
            more={<FromBothEnds name={name} />}
          >
            <TileNote name={name} />
            <TileValue name={name} />
          </How>
        )
      })}
    </div>
  )
}

/** How far the two ways of tracing agree. */
function FromBothEnds({ name }: { name: FigureName }) {
  const { sheet } = useShown()
  const ends = sheet.forwardBackward.find(({ figure }) => figure === name)
  if (!ends) return null
  const { forward, backward, apart } = ends
  const words = (figure: Figure) => {
    const { value, pm, unit } = showFigure(figure, FIGURE_WORDS[name].unit)
    return withUnit(`${value} ± ${pm}`, unit)
  }
  return (
    <p>
      From the emitters: {words(forward)}. From the far end: {words(backward)}. They lie {toDigits(apart, 2)} standard
      errors apart.
    </p>
  )
}

/** The choices behind a figure stand beside it. */
function TileNote({ name }: { name: FigureName }) {
  const coneHalfDeg = useDesign((s) => s.lamp.reading.axialConeHalfDeg)
  const targetM = useDesign((s) => s.lamp.target.distanceM)
  const note: Partial<Record<FigureName, string>> = {
    axialIntensityCd: `${toDigits(2 * coneHalfDeg)}° cone`,
    beamDistanceM: `to 0.25${THIN}lx`,
    targetCentreLx: `at ${toDigits(targetM)}${THIN}m`,
  }
  return note[name] ? <span className="sheet-tile-note">{note[name]}</span> : null
}

function TileValue({ name }: { name: FigureName }) {
  const { sheet } = useShown()
  const figure = sheet.figures[name]
  if (!figure) return <p className="sheet-absent">{noneWords(reason(sheet, name))}</p>
  const shown = showFigure(figure, FIGURE_WORDS[name].unit, TILE_DIGITS)
  return (
    <>
      <p className="sheet-big">
        {shown.value}
        <span className={shown.unit === '°' ? 'sheet-unit sheet-unit-degree' : 'sheet-unit'}>{shown.unit}</span>
      </p>
      <p className="sheet-pm">± {withUnit(shown.pm, shown.unit)}</p>
    </>
  )
}

export function OtherFigures() {
  return (
    <div className="sheet-rows">
      {FIGURE_NAMES.filter((name) => !HEADLINE.includes(name)).map((name) => {
        const words = FIGURE_WORDS[name]
        return (
          <How key={name} className="sheet-row" name={words.name} how={words.how} source={words.source}>
            <RowValue name={name} />
          </How>
        )
      })}
    </div>
  )
}

function RowValue({ name }: { name: FigureName }) {
  const { sheet } = useShown()
  const figure = sheet.figures[name]
  return figure ? (
    <span className="sheet-row-value">{showFigure(figure, FIGURE_WORDS[name].unit).text}</span>
  ) : (
    <span className="sheet-absent">{noneWords(reason(sheet, name))}</span>
  )
}

export function PatternWarning() {
  const { sheet } = useShown()
  if (!sheet.patterned) return null
  const { halfFluxAngleDeg: half, ninetyFluxAngleDeg: ninety } = sheet.figures
  return (
    <p className="sheet-pattern" role="note">
      <strong>The beam is a picture of the array:</strong> beam and field angle say little.{' '}
      {half && ninety && (
        <>
          Half the light lies within {showFigure(half, 'deg').text}, nine tenths within {showFigure(ninety, 'deg').text}
          .
        </>
      )}
    </p>
  )
}
