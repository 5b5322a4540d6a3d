/**
 * What lives here: the keeping of logbooks. The `Store` verbs, SQLite behind them, photos and papers by their content, copies
 * and their way back, and the folder of the catalog. Hands: the disk and the database; nothing here judges what an entry says.
 */
export type { Accounts, AccountsOptions } from './accounts/accounts.ts';
export type { AccessRestored } from './accounts/carry.ts';
export type { FoundLink, Link } from './accounts/links.ts';
export { type AccountEvent, eventWords } from './accounts/log.ts';
export type { AccountExport, Person } from './accounts/people.ts';
export type { RigPerson } from './accounts/roles.ts';
export type { Session } from './accounts/sessions.ts';
export { COMMAND, type LinkKind, LOCAL, type Role } from './accounts/tables.ts';
export { type ImportedArchive, importArchive } from './archive/import.ts';
export { openArchive } from './archive/read.ts';
export { type ArchiveOptions, type MadeArchive, makeArchive } from './archive/write.ts';
export { BLOB_BYTES_MAX, type BlobInfo, type StoredBlob } from './blob.ts';
export { type CatalogFile, loadCatalogFolder } from './catalog-folder.ts';
export { type DrillReport, holdDrill, lastDrill } from './copies/drill.ts';
export { decryptCopy } from './copies/encrypt.ts';
export { type KeeperOptions, keepCopies } from './copies/keeper.ts';
export { describeCopies, type ListedCopy } from './copies/list.ts';
export { type Copy, type FoundCopy, listCopies, makeCopy, newestGoodCopy } from './copies/make.ts';
export { writeWhole } from './copies/manifest.ts';
export { identityOf, makePhrase, readRecipient, recipientOf } from './copies/recovery.ts';
export { restoreCopy } from './copies/restore.ts';
export { verifyCopy } from './copies/verify.ts';
export { digestOf } from './digest.ts';
export { exportLines, type Imported, type ImportOptions, type ImportProgress, importLines } from './exchange.ts';
export type { RawRecord } from './lines.ts';
export { FILE_NAME, openStore, type Target } from './open.ts';
export { PAGE_MAX } from './page.ts';
export { photoToShow, THUMBNAIL_TYPE, thumbnailOf } from './pictures.ts';
export type {
  Appended,
  AppendOptions,
  CheckReport,
  Cursor,
  Page,
  Restored,
  RigSummary,
  Store,
  StoredEntry,
  StoredRaw,
} from './store.ts';
export { clearAbandonedTemporary, placeIn, temporaryFolder } from './temporary.ts';
