from drawerwright.cli import main

raise SystemExit(main())
