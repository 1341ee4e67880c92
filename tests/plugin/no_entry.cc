// A shared object that is no plugin.
extern "C" int something_else() { return 1; }
