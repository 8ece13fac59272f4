// The book: which chapters, and as which file.
import { useState } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { CHAPTER_IDS, CHAPTER_TITLES, type ChapterId } from '../../report/book/model.ts'
import { danger, useDanger } from '../store/danger.ts'
import { usePower } from '../store/power.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { type BookForm, type BookReady, readyFor, saveBook } from './book.ts'
import { shell, useShell } from './page.ts'

const close = () => shell.setState({ book: false })

export function BookDialog() {
  const open = useShell((s) => s.book)
  return (
    <ModalOverlay className="shell-over" isDismissable isOpen={open} onOpenChange={(book) => shell.setState({ book })}>
      <Modal className="ui-popover shell-modal">
        <Dialog className="shell-modal-body">
          <Heading slot="title">The book of this lamp</Heading>
          <BookChoice />
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function BookChoice() {
  const lamp = useDesign((s) => s.lamp)
  const ready = readyFor(
    lamp,
    useResult((s) => s),
    usePower((s) => s),
    useDanger((s) => s),
  )
  const [without, setWithout] = useState<readonly ChapterId[]>([])
  const [isBusy, setBusy] = useState(false)
  const [why, setWhy] = useState<string | null>(null)
  const save = async (form: BookForm) => {
    setBusy(true)
    const failed = await saveBook(lamp, ready.results, without, form)
    setBusy(false)
    setWhy(failed)
    if (failed === null) close()
  }
  const isHeld = isBusy || ready.waitsFor !== ''
  return (
    <>
      <p>
        One document with everything about the lamp. The PDF has the lamp’s own file in it: it opens here like a lamp
        file.
      </p>
      <div className="shell-chapters">
        {CHAPTER_IDS.map((id) => (
          <Toggle
            key={id}
            label={CHAPTER_TITLES[id]}
            value={!without.includes(id)}
            onChange={(on) => setWithout(on ? without.filter((w) => w !== id) : [...without, id])}
          />
        ))}
      </div>
      <p>Cautions and severe findings stand on its first page in any case.</p>
      <Readiness ready={ready} why={why} isBusy={isBusy} />
      <div className="shell-modal-buttons">
        <Button kind="quiet" slot="close">
          Close
        </Button>
        <Button isDisabled={isHeld} onPress={() => void save('html')}>
          Save as a web page
        </Button>
        <Button kind="strong" isDisabled={isHeld} onPress={() => void save('pdf')}>
          Save as PDF
        </Button>
      </div>
    </>
  )
}

function Readiness({ ready, why, isBusy }: { ready: BookReady; why: string | null; isBusy: boolean }) {
  const state = useDanger((s) => s.state)
  const isRead = state === 'running' || state === 'waiting'
  return (
    <div role="status">
      {!ready.hasDangers && (
        <p>
          {isRead
            ? 'The dangers in full are being read.'
            : 'The dangers in full have not been read: the book will say so.'}{' '}
          {!isRead && <Button onPress={() => danger.setState({ open: true })}>Read them now</Button>}
        </p>
      )}
      {isBusy ? <p>The book is being made.</p> : ready.waitsFor !== '' && <p>{ready.waitsFor}</p>}
      {why !== null && <p>{why}</p>}
    </div>
  )
}
