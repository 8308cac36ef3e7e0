import { sql, type Kysely } from 'kysely'

/** Runs statements of the schema in their order. */
export async function runStatements(db: Kysely<unknown>, statements: readonly string[]): Promise<void> {
  for (const statement of statements) await sql.raw(statement).execute(db)
}
