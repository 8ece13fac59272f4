// Drawings to cut by: the list of sheets, the one that is shown, with the pages that a PDF takes, and its files.

import { useMemo, useState } from 'react'
import { drawSheet, type ListedSheet, listSheets } from '../../drawing/sheets.ts'
import { type Paper, tiles } from '../../drawing/tiles.ts'
import type { Drawing, Refusal } from '../../drawing/types.ts'
import { drawingDxf } from '../../files/drawingDxf.ts'
import { drawingPdf } from '../../files/drawingPdf.ts'
import { drawingSvg } from '../../files/drawingSvg.ts'
import { designHash } from '../../lamp/designHash.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { workshopOf } from '../../library/typicalWorkshop.ts'
import { localDate } from '../../num/localDate.ts'
import { shownTexts } from '../common/decimalMark.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { numberText, valueText } from '../common/units.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { useWorkshop, workshop } from '../store/workshop.ts'
import { Button } from '../ui/Button.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { DrawingView } from './DrawingView.tsx'
import { SavedWords } from './SavedWords.tsx'
import { focusRow, SheetList } from './SheetList.tsx'
import { saving } from './saving.ts'
import { useLampAtRest } from './useLampAtRest.ts'

const show = (sheet: string) => workshop.setState({ sheet, saved: null })

export function DrawingsPane() {
  const { lamp, isCurrent } = useLampAtRest()
  const system = useUnitSystem()
  const sheets = useMemo(() => listSheets(lamp, system), [lamp, system])
  const chosen = useWorkshop((s) => s.sheet)
  const sheet = sheets.find((s) => s.name === chosen) ?? sheets.find((s) => s.ok) ?? sheets[0]
  return (
    <div className="workshop-split">
      <SheetList
        label="Drawings of this lamp"
        rows={sheets.map((s) =>
          s.ok
            ? { ...s, words: `${numberText(s.widthMm, 'mm', system, 1)} × ${valueText(s.heightMm, 'mm', system, 1)}` }
            : s,
        )}
        chosen={sheet?.name}
        onChoose={show}
      />
      {sheet && <Sheet lamp={lamp} sheet={sheet} isCurrent={isCurrent} />}
    </div>
  )
}

function Sheet({ lamp, sheet, isCurrent }: { lamp: Lamp; sheet: ListedSheet; isCurrent: boolean }) {
  const [withKerf, setWithKerf] = useState(true)
  const [showPages, setShowPages] = useState(true)
  const system = useUnitSystem()
  const { paper, kerfMm } = workshopOf(lamp)
  const drawn = useMemo(
    () => drawSheet(lamp, sheet.name, { date: localDate(), hash: designHash(lamp), withKerf, system }),
    [lamp, sheet.name, withKerf, system],
  )
  const cut = useMemo(
    () =>
      drawn.ok
        ? tiles(drawn.drawing, paper)
            .tiles.filter((t) => !t.isEmpty)
            .map((t) => t.window)
        : [],
    [drawn, paper],
  )
  if (!drawn.ok) return <Refused title={sheet.title} refusal={drawn} />
  return (
    <div className="workshop-shown">
      <div className="workshop-row">
        <Files drawing={drawn.drawing} lamp={lamp} paper={paper} isReady={isCurrent} />
        {drawn.drawing.isCut && kerfMm > 0 && <Toggle label="Kerf added" value={withKerf} onChange={setWithKerf} />}
      </div>
      <SavedWords />
      <DrawingView drawing={drawn.drawing} pages={showPages ? cut : NO_PAGES}>
        <Toggle label="Pages" value={showPages} onChange={setShowPages} />
        <p className="workshop-pages">
          {cut.length === 1 ? `One page ${paper}` : `${cut.length} pages ${paper}`}. Measure the 100 mm (3.94 in) bar
          before you cut by it.
        </p>
      </DrawingView>
    </div>
  )
}

/** Other sheets that hold the same are a press away. */
function Refused({ title, refusal: { why, instead } }: { title: string; refusal: Refusal }) {
  return (
    <div className="workshop-shown">
      <p role="alert">
        <strong>{title} can’t be drawn.</strong> {why} {instead && `${instead.words}:`}
      </p>
      {instead && (
        <ul className="workshop-instead">
          {instead.sheets.map((s) => (
            <li key={s.name}>
              <Button
                onPress={() => {
                  focusRow(s.name)
                  show(s.name)
                }}
              >
                {s.title}
              </Button>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

const NO_PAGES: readonly never[] = []

interface FilesProps {
  drawing: Drawing
  lamp: Lamp
  paper: Paper
  /** It is of the lamp on the page. */
  isReady: boolean
}

function Files({ drawing, lamp, paper, isReady }: FilesProps) {
  const name = `${fileStem(lamp.name)}-${drawing.name}`
  return (
    <>
      <Button
        kind="strong"
        isDisabled={!isReady}
        hint="For a cutter or a drawing program; millimetres, a layer for each function"
        onPress={() =>
          saving(`${name}.dxf`, async () => saveFile(`${name}.dxf`, await drawingDxf(drawing), 'image/vnd.dxf'))
        }
      >
        Save DXF
      </Button>
      <Button
        isDisabled={!isReady}
        hint="For a drawing program or a browser, at true size"
        onPress={() =>
          saving(`${name}.svg`, async () => saveFile(`${name}.svg`, drawingSvg(shownTexts(drawing)), 'image/svg+xml'))
        }
      >
        Save SVG
      </Button>
      <Button
        isDisabled={!isReady}
        hint="For paper at true size, over as many pages as it takes"
        onPress={() =>
          saving(`${name}.pdf`, async () =>
            saveFile(`${name}.pdf`, (await drawingPdf(shownTexts(drawing), paper)) as BlobPart, 'application/pdf'),
          )
        }
      >
        Save PDF
      </Button>
    </>
  )
}
