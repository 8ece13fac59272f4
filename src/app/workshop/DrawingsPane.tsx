// Drawings to cut by: the list of sheets, the one that is shown, with the pages that a PDF takes, and its files.
import { useDeferredValue, useEffect, useMemo, useState } from 'react'
import { drawSheet, type ListedSheet, listSheets } from '../../drawing/sheets.ts'
import { type Paper, tiles } from '../../drawing/tiles.ts'
import type { Drawing } from '../../drawing/types.ts'
import { drawingDxf } from '../../files/drawingDxf.ts'
import { drawingPdf } from '../../files/drawingPdf.ts'
import { drawingSvg } from '../../files/drawingSvg.ts'
import { designHash } from '../../lamp/designHash.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { workshopOf } from '../../library/typicalWorkshop.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { formatNumber } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { useWorkshop, workshop } from '../store/workshop.ts'
import { Button } from '../ui/Button.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { DrawingView } from './DrawingView.tsx'
import { SheetList } from './SheetList.tsx'
import { saving } from './saving.ts'

export function DrawingsPane() {
  const lamp = useDeferredValue(useDesign((s) => s.lamp))
  const sheets = useMemo(() => listSheets(lamp), [lamp])
  const chosen = useWorkshop((s) => s.sheet)
  const sheet = sheets.find((s) => s.name === chosen) ?? sheets.find((s) => s.ok) ?? sheets[0]
  return (
    <div className="workshop-split">
      <SheetList
        label="Drawings of this lamp"
        rows={sheets.map((s) =>
          s.ok ? { ...s, words: `${formatNumber(s.widthMm, 1)} × ${formatNumber(s.heightMm, 1)} mm` } : s,
        )}
        chosen={sheet?.name}
        onChoose={(name) => workshop.setState({ sheet: name })}
      />
      {sheet && <Sheet lamp={lamp} sheet={sheet} />}
    </div>
  )
}

function useHash(lamp: Lamp): string | null {
  const [known, setKnown] = useState<{ lamp: Lamp; hash: string } | null>(null)
  useEffect(() => {
    let gone = false
    designHash(lamp).then((hash) => {
      if (!gone) setKnown({ lamp, hash })
    })
    return () => {
      gone = true
    }
  }, [lamp])
  return known?.lamp === lamp ? known.hash : null
}

function Sheet({ lamp, sheet }: { lamp: Lamp; sheet: ListedSheet }) {
  const hash = useHash(lamp)
  const [withKerf, setWithKerf] = useState(true)
  const [showPages, setShowPages] = useState(true)
  const { paper, kerfMm } = workshopOf(lamp)
  const drawn = useMemo(
    () => drawSheet(lamp, sheet.name, { date: today(), hash: hash ?? '…', withKerf }),
    [lamp, sheet.name, hash, withKerf],
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
  if (!drawn.ok)
    return (
      <div className="workshop-shown">
        <p role="alert">
          <strong>{sheet.title} can’t be drawn.</strong> {drawn.why}
        </p>
      </div>
    )
  return (
    <div className="workshop-shown">
      <div className="workshop-row">
        <Files drawing={drawn.drawing} lamp={lamp} paper={paper} isReady={hash !== null} />
        {kerfMm > 0 && <Toggle label="Kerf added" value={withKerf} onChange={setWithKerf} />}
        <Toggle label="Pages" value={showPages} onChange={setShowPages} />
        <p>
          {cut.length === 1 ? `One page ${paper}` : `${cut.length} pages ${paper}`}; measure the 100 mm bar on a page
          before you cut by it.
        </p>
      </div>
      <DrawingView drawing={drawn.drawing} pages={showPages ? cut : NO_PAGES} />
    </div>
  )
}

const NO_PAGES: readonly never[] = []

const today = (): string => new Date().toISOString().slice(0, 10)

interface FilesProps {
  drawing: Drawing
  lamp: Lamp
  paper: Paper
  /** Its title block has the design's hash. */
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
        onPress={() => saving(`${name}.svg`, async () => saveFile(`${name}.svg`, drawingSvg(drawing), 'image/svg+xml'))}
      >
        Save SVG
      </Button>
      <Button
        isDisabled={!isReady}
        hint="For paper at true size, over as many pages as it takes"
        onPress={() =>
          saving(`${name}.pdf`, async () =>
            saveFile(`${name}.pdf`, (await drawingPdf(drawing, paper)) as BlobPart, 'application/pdf'),
          )
        }
      >
        Save PDF
      </Button>
    </>
  )
}
