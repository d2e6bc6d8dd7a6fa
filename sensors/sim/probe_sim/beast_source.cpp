// Beast's own bodies, compiled once.
#include <boost/beast/src.hpp>
