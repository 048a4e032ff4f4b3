// Keeps zod from compiling its checks with eval: the pages' content security policy forbids it, and trying is an error.
// It has to be imported before the first schema is made.
import { z } from 'zod';

z.config({ jitless: true });
