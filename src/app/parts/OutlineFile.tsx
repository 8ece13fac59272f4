// Outlines from elsewhere. "From a drawing…": from a DXF or SVG file, chosen or dropped on the button; "Draw on the plan": corner by corner there.
import { useState } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { type Outline, placeOutline } from '../../files/outlineLoops.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { boxOfCorners, type Corner } from '../../num/polygon.ts'
import { beginOutline, type DrawnOutline } from '../store/plan.ts'
import { design, shell, view } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { pickFile } from '../ui/pickFile.ts'
import { Toggle } from '../ui/Toggle.tsx'
import { ErrorText } from './ErrorText.tsx'
import { cornersText } from './outlineEdits.ts'

const DRAWING = { accept: '.dxf,.DXF,.svg,.SVG,image/svg+xml', label: 'Drawing' }

export interface OutlineFileProps {
  /** Holes become keep-outs of a face; a board has none. */
  of: 'face' | 'board'
  take(lamp: Lamp, outline: Pick<Outline, 'corners' | 'keepOuts'>): Lamp
  /** Whose outline the plan draws; null: no board of the type is placed. */
  draws: Pick<DrawnOutline, 'typeId' | 'boardId'> | null
}

interface Opened {
  file: string
  outline: Outline
}

export function OutlineFile({ of, take, draws }: OutlineFileProps) {
  const [opened, setOpened] = useState<Opened | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  const open = (file: File) =>
    void readDrawing(file).then((read) => {
      if (read.ok) setOpened({ file: file.name, outline: read.outline })
      else shell.setState({ fileError: { file: file.name, why: [read.why] } })
    })
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a file can also be chosen with the button inside
    <div
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        const [file] = event.dataTransfer.files
        if (!file || !/\.(dxf|svg)$/i.test(file.name)) return
        event.preventDefault()
        open(file)
      }}
    >
      <div className="parts-buttons parts-from-file">
        <Button
          kind="quiet"
          name={of === 'face' ? 'Outline of the face from a drawing' : 'Outline of the board from a drawing'}
          hint="Reads a DXF or SVG drawing, chosen or dropped here: its largest closed outline"
          onPress={() => pickFile(DRAWING, open)}
        >
          From a drawing…
        </Button>
        <Button
          kind="quiet"
          name={
            of === 'face' ? 'Draw the outline of the face on the plan' : 'Draw the outline of the board on the plan'
          }
          hint={draws ? 'Click its corners one by one on the plan (key u there)' : 'Place a board of this type first'}
          isDisabled={draws === null}
          onPress={() => {
            if (!draws) return
            view.setState({ view: 'plan' })
            beginOutline(draws.typeId, draws.boardId)
          }}
        >
          Draw on the plan
        </Button>
      </div>
      <ErrorText why={why} />
      {opened && (
        <OutlineDialog
          of={of}
          opened={opened}
          onCancel={() => setOpened(null)}
          onTake={(outline) => {
            const label = of === 'face' ? 'Face: outline from a drawing' : 'Board: outline from a drawing'
            setWhy(tryEdit(design, label, (lamp) => take(lamp, outline)))
            setOpened(null)
          }}
        />
      )}
    </div>
  )
}

interface OutlineDialogProps {
  of: OutlineFileProps['of']
  opened: Opened
  onCancel(): void
  onTake(outline: Pick<Outline, 'corners' | 'keepOuts'>): void
}

function OutlineDialog({ of, opened, onCancel, onTake }: OutlineDialogProps) {
  const system = useUnitSystem()
  const [centred, setCentred] = useState(true)
  const [turned, setTurned] = useState(false)
  const [withHoles, setWithHoles] = useState(true)
  const placed = placeOutline(opened.outline, { centred, turned })
  const holes = placed.keepOuts.length
  const holesWords = `${holes} ${holes === 1 ? 'hole' : 'holes'}`
  const keepOuts = of === 'face' && withHoles ? placed.keepOuts : []
  return (
    <ModalOverlay className="parts-over" isDismissable isOpen onOpenChange={(isOpen) => isOpen || onCancel()}>
      <Modal className="ui-popover parts-modal">
        <Dialog className="parts-modal-body">
          <Heading slot="title">Outline of “{opened.file}”</Heading>
          <OutlinePicture corners={placed.corners} holes={keepOuts} />
          <ul className="parts-modal-notes">
            {[`${cornersText(placed.corners, system)}.`, ...placed.notes].map((line) => (
              <li key={line}>{line}</li>
            ))}
            {of === 'board' && holes > 0 && <li>{holesWords} left aside: a board has none.</li>}
          </ul>
          <Toggle
            label={of === 'face' ? 'Its middle on the axis' : 'Its middle on the board’s origin'}
            description="Otherwise the drawing’s own origin stays"
            value={centred}
            onChange={setCentred}
          />
          <Toggle label="A quarter turn" value={turned} onChange={setTurned} />
          {of === 'face' && holes > 0 && (
            <Toggle
              label={holes === 1 ? 'Its hole as a keep-out' : `Its ${holesWords} as keep-outs`}
              description="Each as the circle about it"
              value={withHoles}
              onChange={setWithHoles}
            />
          )}
          <div className="parts-modal-buttons">
            <Button onPress={onCancel}>Cancel</Button>
            <Button kind="strong" onPress={() => onTake({ corners: placed.corners, keepOuts })}>
              Use it
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function OutlinePicture({ corners, holes }: { corners: readonly Corner[]; holes: Outline['keepOuts'] }) {
  const system = useUnitSystem()
  const { fromX, toX, fromY, toY } = boxOfCorners(corners)
  const border = 0.04 * Math.max(toX - fromX, toY - fromY)
  const [wide, high] = [toX - fromX + 2 * border, toY - fromY + 2 * border]
  return (
    <svg
      className="parts-outline"
      viewBox={`${fromX - border} ${-toY - border} ${wide} ${high}`}
      role="img"
      aria-label={cornersText(corners, system)}
    >
      <path d={`M${corners.map(([x, y]) => `${x} ${-y}`).join('L')}Z`} />
      {holes.map((k) => (
        <circle key={`${k.xMm} ${k.yMm} ${k.diameterMm}`} cx={k.xMm} cy={-k.yMm} r={k.diameterMm / 2} />
      ))}
    </svg>
  )
}

/** The reader is only loaded when a drawing is opened. */
async function readDrawing(file: File): Promise<{ ok: true; outline: Outline } | { ok: false; why: string }> {
  const { OUTLINE_MOST_CHARS, readOutline } = await import('../../files/outlineFile.ts')
  // UTF-8: up to four bytes for each character.
  if (file.size > 4 * OUTLINE_MOST_CHARS)
    return { ok: false, why: `It holds ${Math.round(file.size / 1e6)} MB; an outline needs far less.` }
  let text: string
  try {
    text = await file.text()
  } catch {
    return { ok: false, why: 'The file could not be read from the disk.' }
  }
  return readOutline(text, (xml) => {
    const parsed = new DOMParser().parseFromString(xml, 'image/svg+xml')
    return parsed.querySelector('parsererror') ? null : parsed.documentElement
  })
}
