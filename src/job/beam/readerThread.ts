// A thread that reads something beside the thread that orders the rays: started when it is first asked for.

export interface ReaderThread<Client> {
  /** Undefined where there is none. */
  open(): Client | undefined
  close(): void
}

/** None beside a single thread: no more than that was asked for. */
export function makeReaderThread<Client extends { close(): void }>(
  start: () => Client,
  threads: number,
): ReaderThread<Client> {
  let client: Client | undefined
  return {
    open() {
      if (threads > 1) client ??= start()
      return client
    },
    close: () => client?.close(),
  }
}
