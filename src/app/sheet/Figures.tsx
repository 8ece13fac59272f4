import { FIGURE_NAMES, type FigureName, type Sheet } from '../../job/sheet.ts'
import { FIGURE_WORDS } from '../../job/words.ts'
import { showFigure, THIN, toDigits, withUnit } from '../measure/format.ts'
import { How } from './Part.tsx'

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

const reason = (sheet: Sheet, name: FigureName) => sheet.absent[name] ?? 'not read from this run'

/** The choices behind a figure stand beside it. */
export function Headline({ sheet, coneHalfDeg, targetM }: { sheet: Sheet; coneHalfDeg: number; targetM: number }) {
  const note: Partial<Record<FigureName, string>> = {
    axialIntensityCd: `${toDigits(2 * coneHalfDeg)}° cone`,
    beamDistanceM: `to 0.25${THIN}lx`,
    targetCentreLx: `at ${toDigits(targetM)}${THIN}m`,
  }
  return (
    <div className="sheet-tiles">
      {HEADLINE.map((name) => (
        <Tile key={name} sheet={sheet} name={name} note={note[name]} />
      ))}
    </div>
  )
}

function Tile({ sheet, name, note }: { sheet: Sheet; name: FigureName; note: string | undefined }) {
  const words = FIGURE_WORDS[name]
  const figure = sheet.figures[name]
  const shown = figure && showFigure(figure, words.unit)
  return (
    <How className="sheet-tile" name={words.short ?? words.name} how={words.how} source={words.source} level={3}>
      {note && <span className="sheet-tile-note">{note}</span>}
      {shown ? (
        <>
          <p className="sheet-big">
            {shown.value}
            <span className={shown.unit === '°' ? 'sheet-unit sheet-unit-degree' : 'sheet-unit'}>{shown.unit}</span>
          </p>
          <p className="sheet-pm">± {withUnit(shown.pm, shown.unit)}</p>
        </>
      ) : (
        <p className="sheet-absent">None: {reason(sheet, name)}</p>
      )}
    </How>
  )
}

export function OtherFigures({ sheet }: { sheet: Sheet }) {
  return (
    <div className="sheet-rows">
      {FIGURE_NAMES.filter((name) => !HEADLINE.includes(name)).map((name) => {
        const words = FIGURE_WORDS[name]
        const figure = sheet.figures[name]
        return (
          <How key={name} className="sheet-row" name={words.name} how={words.how} source={words.source}>
            {figure ? (
              <span className="sheet-row-value">{showFigure(figure, words.unit).text}</span>
            ) : (
              <span className="sheet-absent">None: {reason(sheet, name)}</span>
            )}
          </How>
        )
      })}
    </div>
  )
}

export function PatternWarning({ sheet }: { sheet: Sheet }) {
  if (!sheet.patterned) return null
  const { halfFluxAngleDeg: half, ninetyFluxAngleDeg: ninety } = sheet.figures
  return (
    <p className="sheet-pattern" role="note">
      <strong>The beam is a picture of the array.</strong> Its profile falls through half or a tenth of the peak more
      than once, so beam and field angle say little.{' '}
      {half && ninety && (
        <>
          Go by the half-flux angle, {showFigure(half, 'deg').text}, and the ninety-flux angle,{' '}
          {showFigure(ninety, 'deg').text}.{' '}
        </>
      )}
      Moving the lens a little off its focal distance blurs the pattern.
    </p>
  )
}
