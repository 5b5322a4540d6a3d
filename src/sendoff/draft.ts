import type { Severity } from '../catalog/index.ts';
import type { Finding, FindingKind, Weight } from './types.ts';

/** A finding before the owner's waivers are laid over it. */
export interface DraftFinding
  extends Omit<Finding, 'waived' | 'counts' | 'title' | 'places' | 'parts' | 'part' | 'upkeep' | 'cautions'> {
  readonly upkeep?: string | null;
  readonly part?: string | null;
  readonly parts?: readonly string[];
  readonly cautions?: readonly string[];
  /** What it makes of the judgement where kind and severity do not say. */
  readonly counts?: Weight;
  /** The entry by which a failure became known: a waiver written before it does not cover it. */
  readonly failedBy?: string;
}

/** What a finding makes of the judgement (sendoff: the rule). Comfort is said, no more. */
export function weightOf(kind: FindingKind, severity: Severity): Weight {
  if (kind === 'pass' || severity === 'comfort') return 'nothing';
  if (kind === 'stop') return 'hold';
  if (kind === 'limit') return 'limits';
  return severity === 'safety' ? 'hold' : 'limits';
}
