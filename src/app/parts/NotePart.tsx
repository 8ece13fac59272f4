// What the builder wants to remember of the lamp. One begun from an example would carry the example's note for good.
import { LIMITS } from '../../lamp/limits.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { TextArea } from '../ui/TextArea.tsx'
import { Part } from './Part.tsx'

export function NotePart() {
  const note = useDesign((s) => s.lamp.note)
  return (
    <Part of="note" title="Note" summary={note === '' ? 'none' : note.slice(0, 40)}>
      <TextArea
        label="Note on the lamp"
        value={note}
        maxLength={LIMITS.textChars}
        rows={6}
        onSet={(text) => tryEdit(design, 'Note', (lamp) => ({ ...lamp, note: text.trim() }))}
      />
      <p className="parts-note">Kept with the lamp and in its file; nothing is computed from it.</p>
    </Part>
  )
}
