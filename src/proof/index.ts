/**
 * What lives here: signatures of devices over the logbook, and what they prove. Pure: secret bytes and instants are given by
 * whoever signs.
 */
export {
  fingerprint,
  held,
  nextStatements,
  publicKeyOf,
  type Signer,
  type Statement,
  statementHash,
  statementProblems,
} from './statement.ts';
export {
  type Finding,
  type Fork,
  type Head,
  headCode,
  headOf,
  type Verification,
  verifyLogbook,
  type Witnessed,
} from './verify.ts';
export { type VerificationLine, verificationLines } from './words.ts';
