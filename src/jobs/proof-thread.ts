/** What a thread loads that proves programs while papers are made. */
import { serveTasks } from '../base/threads/serve-tasks.ts';
import { loadProof } from './prove-beside.ts';

serveTasks(loadProof);
