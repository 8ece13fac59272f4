// Makes a file and says how it went; a file that could not be made is a sentence, never silence.
import { Cancelled } from '../../num/scheduler.ts'
import { workshop } from '../store/workshop.ts'

/** What `make` gives, if it is text, is said of the file behind its name. */
export async function saving(file: string, make: (file: string) => Promise<unknown>): Promise<void> {
  workshop.setState({ saved: { file, state: 'making', words: `${file} is being made…` } })
  try {
    const about = await make(file)
    workshop.setState({
      saved: { file, state: 'saved', words: `${file} has been saved.${typeof about === 'string' ? ` ${about}` : ''}` },
    })
  } catch (error) {
    if (error instanceof Cancelled) {
      workshop.setState({ saved: { file, state: 'stopped', words: `${file} was stopped; nothing is saved.` } })
      return
    }
    const why = error instanceof Error ? error.message : String(error)
    workshop.setState({ saved: { file, state: 'failed', words: `${file} could not be made: ${why}` } })
  }
}
