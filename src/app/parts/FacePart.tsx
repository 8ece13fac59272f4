import { useState } from 'react'
import { resizedFace } from '../../lamp/facePlate.ts'
import { face, keepOut } from '../../lamp/parts.ts'
import type { KeepOut, Lamp } from '../../lamp/schema.ts'
import { FACE_FINISHES } from '../../library/wallFinishes.ts'
import { faceSizeText, lengthWords } from '../../report/faceText.ts'
import { withFaceCorners } from '../common/faceEdits.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { valueText } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { CornerTable } from './CornerTable.tsx'
import { newKeepOut } from './defaults.ts'
import { ErrorText } from './ErrorText.tsx'
import { withFace, withKeepOut } from './edits.ts'
import { Fill } from './Fill.tsx'
import { LampChoice, LampNumber, LampText, PartName } from './fields.tsx'
import { OutlineFile } from './OutlineFile.tsx'
import { cornersText, withFaceShape, withKeepOuts } from './outlineEdits.ts'
import { Part } from './Part.tsx'

const of = face.shape
const [hole, slot] = keepOut.options

const OF_FACE = { typeId: null, boardId: null }

export function FacePart() {
  const system = useUnitSystem()
  const summary = useDesign((s) => summaryOf(s.lamp.face, system))
  const shape = useDesign((s) => s.lamp.face.shape)
  return (
    <Part of="face" title="Face" summary={summary}>
      <LampChoice
        label="Shape"
        description="Of the plate that carries the boards; a square’s and a hexagon’s size is across flats"
        options={[
          { key: 'round', name: 'round' },
          { key: 'square', name: 'square' },
          { key: 'hexagon', name: 'hexagon' },
          { key: 'rectangle', name: 'rectangle' },
          { key: 'polygon', name: 'own outline' },
        ]}
        read={(lamp) => lamp.face.shape}
        write={withFaceShape}
      />
      <LampNumber
        label={shape === 'rectangle' ? 'Width' : 'Size across'}
        unit="mm"
        step={1}
        of={of.sizeMm}
        description={SIZE_WORDS[shape]}
        read={(lamp) => lamp.face.sizeMm}
        write={(lamp, sizeMm) => ({ ...lamp, face: resizedFace(lamp.face, sizeMm) })}
      />
      {shape === 'rectangle' && (
        <LampNumber
          label="Height"
          unit="mm"
          step={1}
          of={of.heightMm.unwrap()}
          description="Along y, upwards on the plan"
          read={(lamp) => lamp.face.heightMm ?? null}
          write={(lamp, heightMm) => withFace(lamp, { heightMm })}
        />
      )}
      {shape === 'polygon' && <CornerTable read={(lamp) => lamp.face.corners} write={withFaceCorners} />}
      <OutlineFile
        of="face"
        draws={OF_FACE}
        take={(lamp, { corners, keepOuts }) => withKeepOuts(withFaceCorners(lamp, corners), keepOuts)}
      />
      <FinishPick />
      <LampNumber
        label="Reflectance"
        unit="share"
        step={0.01}
        of={of.reflectance}
        description="Of light that comes back from tunnel and lens; the rest heats the face"
        read={(lamp) => lamp.face.reflectance}
        write={(lamp, reflectance) => withFace(lamp, { reflectance })}
      />
      <LampNumber
        label="Between boards"
        unit="mm"
        step={0.1}
        of={of.clearanceMm}
        description="Least gap between boards, and from boards to keep-outs"
        read={(lamp) => lamp.face.clearanceMm}
        write={(lamp, clearanceMm) => withFace(lamp, { clearanceMm })}
      />
      <LampNumber
        label="To the edge"
        unit="mm"
        step={0.5}
        of={of.marginMm}
        description="Least distance from a board to the edge of the face"
        read={(lamp) => lamp.face.marginMm}
        write={(lamp, marginMm) => withFace(lamp, { marginMm })}
      />
      <KeepOuts />
      <Fill />
    </Part>
  )
}

const ACROSS = 'A wide face makes a wide beam behind the same lens'
const SIZE_WORDS = {
  round: ACROSS,
  square: ACROSS,
  hexagon: ACROSS,
  rectangle: `Along x. ${ACROSS}`,
  polygon: 'Of the circle about the axis that holds every corner; the corners move with it',
} as const

const summaryOf = (face: Lamp['face'], system: UnitSystem): string =>
  face.shape === 'polygon'
    ? `own outline, ${cornersText(face.corners ?? [], system)}`
    : face.shape === 'rectangle'
      ? `rectangle, ${faceSizeText(face, lengthWords(system))}`
      : `${face.shape}, ${valueText(face.sizeMm, 'mm', system)}`

function FinishPick() {
  const found = useDesign((s) => FACE_FINISHES.find((f) => f.reflectance === s.lamp.face.reflectance)?.id ?? 'own')
  return (
    <LampChoice
      label="Finish"
      description="Sets the reflectance to that of a known finish"
      options={[
        ...FACE_FINISHES.map((f) => ({ key: f.id, name: f.name })),
        ...(found === 'own' ? [{ key: 'own', name: 'own number' }] : []),
      ]}
      read={() => found}
      write={(lamp, id) => {
        const finish = FACE_FINISHES.find((f) => f.id === id)
        return finish ? withFace(lamp, { reflectance: finish.reflectance }) : lamp
      }}
    />
  )
}

function KeepOuts() {
  const count = useDesign((s) => s.lamp.face.keepOuts.length)
  const [why, setWhy] = useState<string | null>(null)
  const add = (shape: KeepOut['shape']) =>
    setWhy(
      tryEdit(design, `Keep-out: ${shape} added`, (lamp) =>
        withFace(lamp, { keepOuts: [...lamp.face.keepOuts, newKeepOut(shape)] }),
      ),
    )
  return (
    <Part of="keepOuts" title="Keep-outs" summary={count === 0 ? 'none' : String(count)} level={3} edits="Keep-out">
      <div className="parts-buttons">
        <Button kind="quiet" onPress={() => add('hole')}>
          + Hole
        </Button>
        <Button kind="quiet" onPress={() => add('slot')}>
          + Slot
        </Button>
      </div>
      <ErrorText why={why} />
      {Array.from({ length: count }, (_, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: keep-outs have no other name than their place
        <KeepOutFields key={i} at={i} />
      ))}
    </Part>
  )
}

function KeepOutFields({ at }: { at: number }) {
  const shape = useDesign((s) => s.lamp.face.keepOuts[at]?.shape)
  const [why, setWhy] = useState<string | null>(null)
  if (!shape) return null
  const fields =
    shape === 'hole'
      ? ([
          ['x', 'xMm', 'mm', hole.shape.xMm],
          ['y', 'yMm', 'mm', hole.shape.yMm],
          ['Diameter', 'diameterMm', 'mm', hole.shape.diameterMm],
        ] as const)
      : ([
          ['x', 'xMm', 'mm', slot.shape.xMm],
          ['y', 'yMm', 'mm', slot.shape.yMm],
          ['Length', 'lengthMm', 'mm', slot.shape.lengthMm],
          ['Width', 'widthMm', 'mm', slot.shape.widthMm],
          ['Turn', 'turnDeg', 'deg', slot.shape.turnDeg],
        ] as const)
  return (
    <PartName value={`Keep-out ${at + 1}`}>
      <fieldset className="parts-item">
        <legend>
          {shape === 'hole' ? 'Hole' : 'Slot'} {at + 1}
        </legend>
        <LampText
          label="What for"
          read={(lamp) => lamp.face.keepOuts[at]?.why ?? ''}
          write={(lamp, text) => withKeepOut(lamp, at, { why: text })}
        />
        {fields.map(([label, key, unit, limits]) => (
          <LampNumber
            key={key}
            label={label}
            unit={unit}
            step={unit === 'deg' ? 5 : 0.5}
            of={limits}
            read={(lamp) => {
              const value = (lamp.face.keepOuts[at] as Record<string, unknown> | undefined)?.[key]
              return typeof value === 'number' ? value : null
            }}
            write={(lamp, v) => withKeepOut(lamp, at, { [key]: v })}
          />
        ))}
        <div className="parts-buttons">
          <Button
            kind="quiet"
            name={`Delete keep-out ${at + 1}`}
            onPress={() =>
              setWhy(
                tryEdit(design, 'Keep-out: deleted', (lamp) =>
                  withFace(lamp, { keepOuts: lamp.face.keepOuts.filter((_, i) => i !== at) }),
                ),
              )
            }
          >
            Delete
          </Button>
        </div>
        <ErrorText why={why} />
      </fieldset>
    </PartName>
  )
}
