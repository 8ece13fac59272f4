// A new lamp: built from a few answers, proposed for what it must do, or begun as an example. It is stored beside the others and opened; the lamp on the sheet stays.
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { useStore } from 'zustand'
import type { Lamp } from '../../lamp/schema.ts'
import { storage } from '../store/pageStorage.ts'
import { shell } from '../store/stores.ts'
import { Choice } from '../ui/Choice.tsx'
import { Examples } from './Examples.tsx'
import { OwnLamp } from './OwnLamp.tsx'
import { WishLamp } from './WishLamp.tsx'
import './start.css'

const close = () => shell.setState({ start: null })

const onLamp = (lamp: Lamp, label: string) => {
  close()
  void storage.add(lamp, label)
}

export function StartDialog() {
  const way = useStore(shell, (s) => s.start)
  return (
    <ModalOverlay className="start-over" isDismissable isOpen={way !== null} onOpenChange={(open) => open || close()}>
      <Modal className="ui-popover start-modal">
        <Dialog className="start-body">
          <header className="start-head">
            <Heading slot="title">New lamp</Heading>
            <Choice
              label="Begin with"
              segments
              value={way ?? 'own'}
              options={[
                { key: 'own', name: 'own numbers' },
                { key: 'wish', name: 'what it must do' },
                { key: 'example', name: 'an example' },
              ]}
              onChoose={(start) => shell.setState({ start })}
            />
          </header>
          {way === 'example' && <Examples onLamp={onLamp} />}
          {way === 'wish' && <WishLamp onLamp={onLamp} />}
          {way === 'own' && <OwnLamp onLamp={onLamp} />}
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
