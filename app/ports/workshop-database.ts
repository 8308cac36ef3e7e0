import type { RecordsReader, RecordsWriter } from './bench-records.ts'
import type { PreparationReader, PreparationWriter } from './preparation-records.ts'
import type { LibraryReader, LibraryWriter } from './library-records.ts'

/** What stands open inside a transaction: everything can be read and written. */
export interface WriteTransaction {
  readonly library: LibraryReader & LibraryWriter
  readonly records: RecordsReader & RecordsWriter
  readonly preparation: PreparationReader & PreparationWriter
}

/**
 * The workshop's memory. Reads see the last committed state. `inTransaction` is the only way to
 * write: inside `work` nothing but calls of the transaction is awaited; it commits when `work`
 * resolves and rolls back all of it when `work` rejects. Transactions of one process queue up;
 * another process's short write is waited for, then told as AppError `workshop/busy`.
 */
export interface WorkshopDatabase {
  readonly library: LibraryReader
  readonly records: RecordsReader
  readonly preparation: PreparationReader
  inTransaction<T>(work: (transaction: WriteTransaction) => Promise<T>): Promise<T>
  /** Calls back when another process has committed something. Returns how to stop. */
  onForeignChange(listener: () => void): () => void
  close(): Promise<void>
}
