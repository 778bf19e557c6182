// The shapes of the API's answers about corrections, for the type check only:
// this file is not served.
import type { Design, View } from './shapes.js';
import type { DesignLine } from './shapes-fit.js';

export type CorrectionState = 'draft' | 'in_text' | 'announced' | 'withdrawn';
export interface Correction {
  id: string; number: number; state: CorrectionState; next: CorrectionState[]; place: string; was: string; is_now: string; why: string; count: string;
  sizes: string[]; since_version_id: string; since: number; mended_version_id: string | null; mended: number | null;
  found_by: string | null; found_handle: string; found_words: string; finding_key: string; remark_id: string | null;
  in_text_at: string | null; announced_at: string | null; withdrawn_at: string | null; withdrawn_why: string; created_at: string; revision: number;
  spoken: { installment_id: string; take: number; sentence: string }[];
}
export interface CorrectionMaker {
  assignment_id: string; call_id: string; handle: string; size_id: string; size: string; version: number; due: number[]; told: number[];
}
export interface Corrections {
  design: DesignLine; items: Correction[]; makers: CorrectionMaker[]; shut: string; public_page?: string; public_feed?: string;
}
export interface ChangedCount { count: string; since: number; now: number; was: string; is_now: string; sizes: string[]; same: boolean }
export interface PublicCorrection {
  number: number; place: string; was: string; is_now: string; sizes: string[]; since: number; mended: number;
  announced_at: string; withdrawn_at: string | null; withdrawn_why?: string;
}
export interface PublicCorrections {
  studio: string; design: string; craft: 'crochet' | 'knit'; released_on: string; feed: string; items: PublicCorrection[];
}
export interface PieceCorrection {
  number: number; place: string; was?: string; is_now?: string; count?: string; before: number | null; after: number | null; mended: number;
}
/** What a correction is begun from, before anything is typed. */
export interface CorrectionStart {
  place?: string; since_version_id?: string; sizes?: string[]; count?: string; finding_key?: string; remark_id?: string; found_by?: string;
  about?: string; // what it comes from, in words
}
/** What the form of a correction stands on. */
export interface CorrectionDesk { view: View; path: string; design: Design; refresh: (saved?: any) => Promise<void> | void }
