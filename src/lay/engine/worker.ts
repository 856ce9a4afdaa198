/** What a thread of the search loads. */
import { serveTasks } from '../../base/threads/serve-tasks.ts';
import { streamTasks } from './streams.ts';

serveTasks(async () => streamTasks());
