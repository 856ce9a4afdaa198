/** What a thread of the page's server loads. */
import { serveTasks } from '../../base/threads/serve-tasks.ts';
import { loadTasks } from './threads.ts';

serveTasks(loadTasks);
