using Fieldwright.App;

return CommandLine.RunOnConsole(args);
