import type { Thoroughness } from '../database/examine.ts';
import { answerQuestions } from '../process.ts';
import { drill } from './drill.ts';
import { carryPhotos } from './photos.ts';
import { type Proof, proveCopy } from './proof.ts';
import { type Carried, carry } from './second-place.ts';

/** What is done with a copy beside the process that answers pages. */
export type CopyTask =
  | { readonly kind: 'prove'; readonly file: string; readonly how: Thoroughness }
  | { readonly kind: 'carry'; readonly copy: string; readonly sha256: string; readonly folder: string }
  | { readonly kind: 'photos'; readonly from: string; readonly to: string; readonly mends: boolean }
  | { readonly kind: 'drill'; readonly copy: string; readonly at: string };

export type CopyTaskDone =
  | { readonly kind: 'prove'; readonly proof: Proof }
  | { readonly kind: 'carry'; readonly carried: Carried }
  | { readonly kind: 'photos'; readonly damaged: readonly string[] }
  | { readonly kind: 'drill'; readonly failures: readonly string[] };

answerQuestions((task: CopyTask): CopyTaskDone => {
  if (task.kind === 'prove') return { kind: 'prove', proof: proveCopy(task.file, task.how) };
  if (task.kind === 'carry') return { kind: 'carry', carried: carry(task.copy, task.sha256, task.folder) };
  if (task.kind === 'photos') return { kind: 'photos', damaged: carryPhotos(task.from, task.to, task) };
  return { kind: 'drill', failures: drill(task.copy, task.at) };
});
