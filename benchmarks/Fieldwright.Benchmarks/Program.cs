Console.WriteLine("benchmarks: name one");
return 2;
