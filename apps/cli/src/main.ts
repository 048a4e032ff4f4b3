// The command `stillprop`: what a person can ask for, and how it ends: 0 done, 2 input that cannot be used, 1 our fault.
import { FILE_SCHEMAS } from '@stillprop/contracts';
import { Command, CommanderError } from 'commander';
import { BadInput } from './badInput.js';
import { defaultDataDir } from './places.js';

const collect = (value: string, all: string[]) => [...all, value];

const program = new Command('stillprop')
  .description(
    'Learn in a simulator, and compute before flight, from what height turning back after an engine failure works.\n' +
      'Simulator practice only. Not a licence to try it low in an aeroplane.',
  )
  .exitOverride()
  .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, 'stillprop: ')) })
  .showHelpAfterError('(stillprop --help lists what there is)');

program
  .command('start')
  .description('start bridge and debrief, and open them to your browser; stop with Ctrl+C')
  .option('--bench', 'start the stand-in simulator too, so that no other is needed')
  .option('--link <file>', 'link profile of your simulator (may be given more than once)', collect, [])
  .option('--port <number>', 'port of the pages', '47180')
  .option('--station <name>', 'name of this simulator in lists (home)')
  .option('--room <file>', 'serve a whole room: stations with their links, instead of --link, --bench and --station')
  .option('--network', 'take in bridges on other computers too, each by its token; pages stay on this computer')
  .option('--server <url>', 'hand recordings to the debrief server there instead of starting one here')
  .option('--token-file <file>', 'with --server: file with the token that "stillprop station token" made there')
  .option('--data <folder>', 'where recordings are kept', defaultDataDir())
  .action(async (options) => (await import('./commands/start.js')).start(options));

const station = program
  .command('station')
  .description('tokens by which the debrief server here knows bridges on other computers');
station
  .command('token')
  .description('make a token for a station, in place of the one it has; it is shown this once')
  .argument('<name>', 'name of the station')
  .option('--data <folder>', 'data folder of the debrief server', defaultDataDir())
  .action(async (name, options) => (await import('./commands/station.js')).stationToken(name, options));
station
  .command('revoke')
  .description('take the token of a station back: its bridge is let go within seconds')
  .argument('<name>', 'name of the station')
  .option('--data <folder>', 'data folder of the debrief server', defaultDataDir())
  .action(async (name, options) => (await import('./commands/station.js')).stationRevoke(name, options));
station
  .command('list')
  .description('list the stations that have a token')
  .option('--data <folder>', 'data folder of the debrief server', defaultDataDir())
  .option('--json', 'print one JSON document')
  .action(async (options) => (await import('./commands/station.js')).stationList(options));

program
  .command('demo')
  .description('fly one attempt on the stand-in simulator over UDP, and print its score')
  .option('--pilot <name>', 'prompt, hesitant, shallow, overbanked, lands-ahead or never-reacts', 'prompt')
  .option('--height <ft>', 'height above the runway at which the engine fails', '1000')
  .option('--speed <times>', 'how much faster than real time, up to 20', '10')
  .option('--seed <number>', 'same number, same pilot to the last twitch', '1')
  .option('--format <name>', 'what the stand-in sends: text or json', 'text')
  .option('--drop <share>', 'share of datagrams lost on the way, 0 to 0.5', '0')
  .option('--keep <folder>', 'keep recording and database in this folder')
  .option('--json', 'print one JSON document')
  .action(async (options) => (await import('./commands/demo.js')).demo(options));

program
  .command('aircraft')
  .description('report what is derived from the handbook numbers of an aeroplane, and which contradict each other')
  .argument('<file>', 'JSON file of an aircraft, or a request; - reads standard input')
  .option('--json', 'print one JSON document')
  .action(async (path, options) => (await import('./commands/aircraft.js')).aircraft(path, options));

program
  .command('fly')
  .description('compute one attempt from a request: aeroplane, runway, weather, technique, failure')
  .argument('[request]', 'JSON file; - reads standard input; see fixtures/requests for examples')
  .option('--json', 'print one JSON document')
  .option('--csv', 'print the flown track as comma-separated values')
  .option('--every <s>', 'seconds between rows of the track (0.5)')
  .option('--from <recording>', 'start from a recorded state, with its aeroplane, runway and weather')
  .option('--at <s>', 'time in the recording; where the power fell when absent. The delay counts from there')
  .option('--technique <file>', 'JSON file of a technique to fly instead')
  .action(async (path, options) => (await import('./commands/fly.js')).fly(path, options));

program
  .command('plan')
  .description('plan a departure: from what height a return works, which side, what each mistake costs')
  .argument('[request]', 'JSON file as for fly, with an optional "plan"; - reads standard input')
  .option('--json', 'print one JSON document')
  .option('--csv', 'print all tables as comma-separated values, a figure a row')
  .option(
    '--table <name>',
    'with --csv: windows, sides, ahead, turns, costs, climbs, spread, footprint or fields alone',
  )
  .option(
    '--draws <number>',
    'flights at each height of the spread (1000), 0 for none; goes before the one in the file',
  )
  .option('--optimise', 'also search for a technique that returns from lower (some seconds)')
  .option('--from <recording>', 'plan from a recorded state, with its aeroplane, runway and weather')
  .option('--at <s>', 'time in the recording; where the power fell when absent. The delay counts from there')
  .option('--technique <file>', 'JSON file of a technique to plan with instead')
  .addHelpText(
    'after',
    '\nFrom a recorded state the heights asked are heights of that state: straight up and down, same place, speed and\n' +
      'attitude. What a climb speed is worth is then not told: that climb is past. A technique that lands ahead is\n' +
      'planned from there as a return to the better side.',
  )
  .action(async (path, options) => (await import('./commands/plan.js')).plan(path, options));

program
  .command('score')
  .description('score a recording: delay, bank, airspeed, touchdown point, and what to do differently')
  .argument('<recording>', 'file of a recording; - reads standard input')
  .option('--json', 'print one JSON document')
  .action(async (path, options) => (await import('./commands/score.js')).score(path, options));

program
  .command('import')
  .description(
    'make a recording of a track log (GPX, IGC, NMEA, or CSV with a mapping), to be scored as far as it tells',
  )
  .argument('<track>', 'file of a track log; - reads standard input')
  .requiredOption('--scenario <id>', 'scenario on the shelf that was flown')
  .option('--mapping <file>', 'which column of a CSV file is what')
  .option(
    '--failed-at <when>',
    "loss of power: seconds from the log's start, or a date and time; else the highest point",
  )
  .option('--started-at <time>', 'date and time of the first point, where the log has no date')
  .option('--student <name>', 'who flew')
  .option('--data <dir>', 'data folder with your own shelf', defaultDataDir())
  .option('--out <file>', 'write the recording to this new file')
  .option('--to <url>', 'hand the recording to the debrief server at this address')
  .action(async (path, { data: dataDir, ...options }) =>
    (await import('./commands/importTrack.js')).importTrack(path, { ...options, dataDir }),
  );

program
  .command('fit')
  .description('fit a glide flown: best glide, polar and propeller factor with uncertainties, beside the handbook')
  .argument('<recording>', 'file of a recording with a total failure; - reads standard input')
  .option('--from <s>', "start of the stretch to look at, in the recording's seconds")
  .option('--to <s>', 'end of that stretch')
  .option('--wind <source>', 'known: as in the scenario; estimated: from track, heading and airspeed', 'known')
  .option('--json', 'print one JSON document')
  .action(async (path, options) => (await import('./commands/fit.js')).fit(path, options));

const link = program.command('link').description('find out what a simulator sends, and check a link profile');
link
  .command('listen')
  .description('show what arrives: rate, sender, shape, every value')
  .option('--port <number>', 'port to which your simulator sends or connects')
  .option('--host <address>', 'address of this computer; 0.0.0.0 for a simulator on another', '127.0.0.1')
  .option('--over <kind>', 'udp; tcp (lines) or websocket where your simulator connects to the port', 'udp')
  .option('--connect <address>', 'instead: connect to your simulator, tcp://HOST:PORT or ws://HOST:PORT/PATH')
  .option('--profile <file>', 'also show what this link profile makes of it')
  .option('--for <s>', 'how long to listen', '10')
  .option('--json', 'print one JSON document')
  .action(async (options) => (await import('./commands/linkListen.js')).linkListen(options));
link
  .command('check')
  .description('what a link profile covers, what is missing, and what is lost by it')
  .argument('<profile>', 'file of a link profile; - reads standard input')
  .option('--capture <file>', 'also try it on what was recorded with link record')
  .option('--json', 'print one JSON document')
  .action(async (path, options) => (await import('./commands/linkCheck.js')).linkCheck(path, options));
link
  .command('record')
  .description('record what arrives, to try profiles on it or to send with a report')
  .option('--port <number>', 'port to which your simulator sends or connects')
  .requiredOption('--out <file>', 'file to write; it must not be there yet')
  .option('--host <address>', 'address of this computer; 0.0.0.0 for a simulator on another', '127.0.0.1')
  .option('--over <kind>', 'udp; tcp (lines) or websocket where your simulator connects to the port', 'udp')
  .option('--connect <address>', 'instead: connect to your simulator, tcp://HOST:PORT or ws://HOST:PORT/PATH')
  .option('--for <s>', 'how long to record', '60')
  .action(async (options) => (await import('./commands/linkCapture.js')).linkRecord(options));
link
  .command('replay')
  .description('send what was recorded, in its own time, by UDP')
  .argument('<capture>', 'file of link record; - reads standard input')
  .requiredOption('--to <host:port>', 'where to send it')
  .option('--speed <times>', 'how much faster than it came', '1')
  .action(async (path, options) => (await import('./commands/linkCapture.js')).linkReplay(path, options));

program
  .command('schema')
  .description('print the JSON Schema of a file you write by hand')
  .argument('<kind>', Object.keys(FILE_SCHEMAS).join(', '))
  .action(async (kind) => (await import('./commands/schema.js')).schema(kind));

program
  .command('part', { hidden: true })
  .argument('<name>')
  .option('--data <folder>', '', '')
  .option('--catalogue <folder>', '', collect, [])
  .option('--port <number>', '', '0')
  .option('--station <name>', '', 'home')
  .option('--server <url>')
  .option('--host <address>')
  .option('--room <file>')
  .option('--token-file <file>')
  .option('--link <file>', '', collect, [])
  .option('--links <folder>')
  .option('--to <format:port>', '', collect, [])
  .option('--drop <share>', '', '0')
  .option('--delay <ms>', '', '0')
  .option('--duplicate <share>', '', '0')
  .option('--reorder <share>', '', '0')
  .option('--rate <hz>', '', '20')
  .action(async (name, options) => (await import('./commands/part.js')).part(name, options));

program.addHelpText(
  'after',
  '\nTry first:  stillprop start --bench\nA wrong file or option is answered with one line that says what would be right, and exit code 2.\n',
);

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? 0 : 2;
  } else if (error instanceof BadInput) {
    console.error(`stillprop: ${error.message}`);
    process.exitCode = 2;
  } else {
    console.error(`stillprop: something went wrong that should not have: ${(error as Error).stack ?? String(error)}`);
    process.exitCode = 1;
  }
}
